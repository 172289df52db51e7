"""Slips and liberties planted in the text of data files, as somebody would make them."""

import re
from collections.abc import Callable

Files = dict[str, str]
"""Text of each data file by its path."""

_ROW = re.compile(r'^  - \{id: "(?P<id>\w+)".*?\}$', re.MULTILINE | re.DOTALL)


def value_of(row: str, key: str) -> float:
    match = re.search(rf"\b{key}: ([-\d.]+)", row)
    assert match, (key, row)
    return float(match[1])


def with_value(row: str, key: str, value: float | str) -> str:
    """A row with another value, with as many decimals as it had."""
    old = re.search(rf"\b{key}: ([^,}}]+)", row)
    assert old, (key, row)
    decimals = len(old[1].partition(".")[2])
    new = value if isinstance(value, str) else f"{value:.{decimals}f}"
    return row[: old.start(1)] + new + row[old.end(1) :]


def rows_of(files: Files, path: str) -> list[str]:
    return [match[0] for match in _ROW.finditer(files[path])]


def put_rows(files: Files, path: str, rows: list[str]) -> None:
    """Put rows in the place of those of the file, numbered anew in their order."""
    text = files[path]
    found = list(_ROW.finditer(text))
    numbered = [re.sub(r'id: "\w+"', f'id: "{number:02}"', row) for number, row in enumerate(rows, start=1)]
    files[path] = text[: found[0].start()] + "\n".join(numbered) + text[found[-1].end() :]


def change_each(files: Files, path: str, change: Callable[[int, str], str]) -> None:
    put_rows(files, path, [change(index, row) for index, row in enumerate(rows_of(files, path))])


def put_once(files: Files, path: str, old: str, new: str) -> None:
    assert files[path].count(old) >= 1, (path, old)
    files[path] = files[path].replace(old, new, 1)


def unreported(files: Files, path: str) -> None:
    """Take what the group reported out: it would give the fault away."""
    files[path] = re.sub(r"^reported:.*\n(?:  .*\n)*", "", files[path], flags=re.MULTILINE)


def shifted(path: str, by: float, key: str = "rise_angle_deg") -> Callable[[Files], None]:
    """All readings of a record moved by as much."""

    def plant(files: Files) -> None:
        unreported(files, path)
        change_each(files, path, lambda _, row: with_value(row, key, value_of(row, key) + by))

    return plant


def scaled(path: str, factor: float, key: str = "indicated_energy_J") -> Callable[[Files], None]:
    """All readings of a record multiplied."""

    def plant(files: Files) -> None:
        unreported(files, path)
        change_each(files, path, lambda _, row: with_value(row, key, round(value_of(row, key) * factor * 500) / 500))

    return plant


def one_bar(path: str, index: int, key: str, value: float | str) -> Callable[[Files], None]:
    """One value of one bar changed."""

    def plant(files: Files) -> None:
        unreported(files, path)
        change_each(files, path, lambda place, row: with_value(row, key, value) if place == index else row)

    return plant


def every_bar(path: str, **values: float | str) -> Callable[[Files], None]:
    """Values that all bars share."""

    def plant(files: Files) -> None:
        unreported(files, path)
        for key, value in values.items():
            change_each(files, path, lambda _, row, key=key, value=value: with_value(row, key, value))  # type: ignore[misc]

    return plant


def series(path: str, readings: list[float], key: str = "rise_angle_deg") -> Callable[[Files], None]:
    """Readings in the place of those of the bars."""

    def plant(files: Files) -> None:
        unreported(files, path)
        change_each(files, path, lambda index, row: with_value(row, key, readings[index]))

    return plant


def put(path: str, *changes: tuple[str, str]) -> Callable[[Files], None]:
    """Passages of a file replaced."""

    def plant(files: Files) -> None:
        for old, new in changes:
            put_once(files, path, old, new)

    return plant


def renamed(path: str, new: str) -> Callable[[Files], None]:
    """A file under another name."""

    def plant(files: Files) -> None:
        files[new] = files.pop(path)

    return plant


def made_from(
    path: str, copy: str, change: Callable[[int, str], str], order: Callable[[list[str]], list[str]] = list
) -> Callable[[Files], None]:
    """A new record of another group and day, its rows made from those of an older one."""

    def plant(files: Files) -> None:
        text = re.sub(r"^date: .*$", "date: 2026-11-02", files[path], flags=re.MULTILINE)
        files[copy] = re.sub(r"^group: .*$", "group: G5", text, flags=re.MULTILINE)
        unreported(files, copy)
        put_rows(files, copy, order([change(index, row) for index, row in enumerate(rows_of(files, copy))]))

    return plant


def verification_of_last_year(path: str, last: str) -> Callable[[Files], None]:
    """This year's verification is last year's with new dates."""

    def plant(files: Files) -> None:
        dates = re.findall(r"^(?:date|valid_until): .*$", files[path], re.MULTILINE)
        files[path] = re.sub(r"^(?:date|valid_until): .*$", lambda _: dates.pop(0), files[last], flags=re.MULTILINE)

    return plant


def left_out(path: str, why: str) -> Callable[[Files], None]:
    """The bar that took most is left out for its value, and a spare one struck in its place."""

    def plant(files: Files) -> None:
        unreported(files, path)
        rows = rows_of(files, path)
        most = min(range(len(rows)), key=lambda place: value_of(rows[place], "rise_angle_deg"))
        spare = with_value(with_value(rows[0], "width_mm", 9.96), "thickness_mm", 4.01)
        rows[most] = rows[most][:-1] + f', excluded: "{why}"}}'
        put_rows(files, path, [*rows, spare])

    return plant


def no_break_below(path: str) -> Callable[[Files], None]:
    """A bar that did not break has half the energy of those that did."""

    def plant(files: Files) -> None:
        rows = rows_of(files, path)
        unbroken = next(row for row in rows if "break: N" in row)
        broken = min(value_of(row, "indicated_energy_J") for row in rows if "break: P" in row)
        half = with_value(unbroken, "indicated_energy_J", round(broken * 250) / 500)
        put_once(files, path, unbroken, half)

    return plant


def double_loss(path: str) -> Callable[[Files], None]:
    """Free swings lose twice what they lost."""

    def plant(files: Files) -> None:
        files[path] = re.sub(
            r"((?:first|second)_indicated_energy_J: )([\d.]+)",
            lambda found: f"{found[1]}{float(found[2]) * 2:.3f}",
            files[path],
        )

    return plant
