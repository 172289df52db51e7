"""The notation of hand-written pages: values as the results have them, pictures, formulae, and what is left alone."""

import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from page_html import written_html
from test_shown_values import _agrees

import small_handbook as small
from hostile_handbook import HOSTILE
from html_tree import Element, parse
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages.written.filled import UnknownValueError
from notchbook.pages.written.prose import checked, rendered, troubles
from notchbook.pages.written.quantities import find, names

DEMO = Path(__file__).resolve().parents[2]
RECORDS = sorted(path.stem for path in (DEMO / "results/tests").glob("*.yaml"))
VERIFICATIONS = sorted(path.stem for path in (DEMO / "results/verifications").glob("*.yaml"))
ID = re.compile(r'\bid="([^"]+)"')
NUMBERS = re.compile(r"−?[0-9]+(?:\.[0-9]+)?")


def _page(handbook: Handbook, text: str) -> Element:
    """The page as MkDocs turns it into HTML."""
    return parse(written_html(rendered(Facts(handbook), text)))


def _shown(handbook: Handbook, notation: str) -> str:
    """What a value reads in a sentence."""
    return _page(handbook, f"It is [[{notation}]].").one("span", css="nb-quantity").text


def _number(handbook: Handbook, notation: str, unit: str = "") -> str:
    """A single number in what is shown, of that unit."""
    words = _shown(handbook, notation)
    assert words.endswith(unit)
    return NUMBERS.findall(words)[0]


@pytest.mark.parametrize("record_id", RECORDS)
def test_values_of_a_record(record_id: str, demo: Handbook, demo_results: dict[str, Any]) -> None:
    result = demo_results["tests"][record_id]
    named = [(f"{''.join(each['breaks'])} ", each) for each in result["sets"]]
    for put_first, found in [*named, *(("", each) for each in result["sets"][:1])]:
        for name, key, figures in (("mean", "mean_kJ_m2", 3), ("standard deviation", "standard_deviation_kJ_m2", 2)):
            _agrees(_number(demo, f"test {record_id}: {put_first}{name}", "kJ/m²"), found[key], figures=figures)
        _agrees(_number(demo, f"test {record_id}: {put_first}result", "kJ/m²"), found["mean_kJ_m2"], figures=2)
        _agrees(_number(demo, f"test {record_id}: {put_first}variation", "%"), found["variation_pct"])
        mean, expanded = found["mean_kJ_m2"], found["expanded_uncertainty_kJ_m2"]
        of_scatter = found["interval_kJ_m2"]
        for words, ends in (("", (mean - expanded, mean + expanded)), (" from scatter alone", of_scatter)):
            low, high = NUMBERS.findall(_shown(demo, f"test {record_id}: {put_first}interval{words}"))
            _agrees(low, ends[0])
            _agrees(high, ends[1])
            assert len(low.partition(".")[2]) == len(high.partition(".")[2])
            half = (ends[1] - ends[0]) / 2
            _agrees(_number(demo, f"test {record_id}: {put_first}half-width{words}", "kJ/m²"), half, figures=2)
        assert _shown(demo, f"test {record_id}: {put_first}n") == str(found["n"])


@pytest.mark.parametrize("record_id", RECORDS)
def test_values_of_a_bar(record_id: str, demo: Handbook, demo_results: dict[str, Any]) -> None:
    found = demo_results["tests"][record_id]["specimens"][-1]
    bar = demo.library.records[record_id].specimens[-1]
    start = f"test {record_id}: bar {found['id']}"
    _agrees(_number(demo, f"{start} energy", "J"), found["energy_J"], figures=3)
    _agrees(_number(demo, f"{start} loss", "J"), found["loss_J"], figures=2)
    _agrees(_number(demo, f"{start} plastics loss", "J"), found["loss_J"], figures=3)
    _agrees(_number(demo, f"{start} indicated energy", "J"), found["energy_J"] + found["loss_J"], figures=3)
    _agrees(_number(demo, f"{start} used", "%"), found["used_pct"], figures=3)
    # 1 J/m is 1 J over 1000 mm
    per_thickness = 1000 * found["energy_J"] / bar.thickness_mm
    _agrees(_number(demo, f"{start} energy per thickness", "J/m"), per_thickness, figures=3)
    width_mm = bar.width_mm if bar.remaining_width_mm is None else bar.remaining_width_mm
    _agrees(_number(demo, f"{start} section", "mm²"), width_mm * bar.thickness_mm, figures=3)
    assert Decimal(_number(demo, f"{start} thickness", "mm")) == Decimal(str(bar.thickness_mm))
    assert _shown(demo, f"{start} break") == found["break"]
    if found["strength_kJ_m2"] is None:
        with pytest.raises(UnknownValueError, match="cannot be had"):
            find(Facts(demo), "test", record_id, f"bar {found['id']} strength", "p")
    else:
        _agrees(_number(demo, f"{start} strength", "kJ/m²"), found["strength_kJ_m2"], figures=3)


@pytest.mark.parametrize("verification_id", VERIFICATIONS)
def test_values_of_a_verification(verification_id: str, demo: Handbook, demo_results: dict[str, Any]) -> None:
    found = demo_results["verifications"][verification_id]
    for name, key, unit in (
        ("indicator loss", "indicator_loss_J", "J"),
        ("swing loss", "swing_loss_J", "J"),
        ("loss share", "loss_pct", "%"),
    ):
        _agrees(_number(demo, f"verification {verification_id}: {name}", unit), found[key], figures=3)
    data = demo.library.verifications[verification_id]
    hammer = f"hammer {data.rig}/{data.hammer}"
    _agrees(_number(demo, f"{hammer}: energy", "J"), found["potential_energy_J"], figures=4)
    _agrees(_number(demo, f"{hammer}: velocity", "m/s"), found["velocity_m_s"], figures=3)


def test_bars_that_a_mean_takes(demo: Handbook) -> None:
    # n with t(0.975; n - 1) s / sqrt(n) just below 5 % of the mean: s/mean = 5.67 %, and by any table of Student's t
    # 2.365 x 5.67 / sqrt(8) = 4.74 but 2.447 x 5.67 / sqrt(7) = 5.24
    assert _shown(demo, "test 2026-10-05-g1-pp-h-notched: bars for 5 %") == "8"


def test_stress_factor_is_that_of_an_elliptical_hole(demo: Handbook) -> None:
    # Inglis, 1 + 2 sqrt(t/rho), from memory: 2 mm deep, 0.25 mm and 1 mm
    assert _shown(demo, "exercise notched-charpy: stress factor") == "6.7"
    assert _shown(demo, "exercise notch-sensitivity: stress factor") == "3.8"
    assert _shown(demo, "exercise notched-charpy: notch depth") == "2 mm"
    with pytest.raises(UnknownValueError):
        find(Facts(demo), "exercise", "unnotched-charpy", "stress factor", "p")


def test_every_listed_value_can_be_had_somewhere(demo: Handbook) -> None:
    ids: dict[str, Sequence[str]] = {
        "test": RECORDS,
        "tests": [",".join(RECORDS[:2])],
        "hammer": [f"{rig}/{hammer}" for rig, hammer in demo.evaluation.hammers],
        "verification": VERIFICATIONS,
        "swings": list(demo.library.swings),
        "rig": list(demo.library.rigs),
        "material": list(demo.library.materials),
        "exercise": list(demo.library.exercises),
    }
    assert set(names()) == set(ids)
    for kind, listed in names().items():
        for name in listed:
            asked = name.replace("bar ID", "bar 01").replace("LETTERS", "C")
            assert any(_can_be_had(demo, kind, each, asked) for each in ids[kind]), f"{kind}: {name}"


def _can_be_had(handbook: Handbook, kind: str, object_id: str, name: str) -> bool:
    try:
        return bool(find(Facts(handbook), kind, object_id, name, "p").html)
    except UnknownValueError:
        return False


@pytest.mark.parametrize(
    "text",
    [
        "`[[test x: y]]` and ``[[a `b`: c]]``",
        "```\n[[test x: y]] $\\nosuch$\n```",
        "~~~~ python\n[[test x: y]]\n~~~\n$$\\nosuch$$\n~~~~",
        "```\nnever closed [[test x: y]]",
        "<!-- [[test x: y]]\n$\\nosuch$ -->",
        "[text][id] [[1], [2]] [ ] [[a](b.md)]",
        "$5 and $10, \\$x\\$, a$b$c, 5$",
        "",
    ],
)
def test_what_is_no_notation_stays_as_it_is(text: str, demo: Handbook) -> None:
    assert rendered(Facts(demo), text) == text
    assert list(troubles(Facts(demo), text)) == []


def test_what_cannot_be_shown_stays_as_it_was_written(demo: Handbook) -> None:
    text = "A [[test nobody: result]], a $\\nosuch$ and [[material pp-h: symbol]]."
    page = rendered(Facts(demo), text)
    assert page.startswith("A [[test nobody: result]], a $\\nosuch$ and <span")
    assert [text[each.start :][:3] for each in troubles(Facts(demo), text)] == ["[[t", "\\no"]


def test_formulae_are_mathml_with_their_tex_beside_them(demo: Handbook) -> None:
    page = _page(demo, "The sum $a_1 * b_2 * c$ is *small*.\n\n$$\nW < \\frac{E}{2}\n$$\n\nEnd.")
    inline, block = page.all("math")
    assert inline.attributes["alttext"] == "a_1 * b_2 * c"
    assert block.attributes["alttext"] == "W < \\frac{E}{2}"
    assert block.attributes["display"] == "block"
    assert [each.text for each in page.all("em")] == ["small"]
    assert page.all("p")[-1].text == "End."


@pytest.mark.parametrize("text", HOSTILE)
def test_foreign_text_in_a_value_is_text(text: str, tmp_path: Path) -> None:
    contents = small.files()
    contents[small.MATERIAL]["title"] = text
    contents[small.MATERIAL]["symbol"] = text[:20]
    handbook = small.opened(tmp_path, contents)
    page = _page(handbook, "Made of [[material pp-h: title]], short [[material pp-h: symbol]].")
    (paragraph,) = page.all("p")
    assert {each.tag for each in paragraph} == {"p", "span"}
    # one line of text, less what no page can show
    shown, wanted = paragraph.all("span")[0].text, " ".join(text.split())
    kept = {each for each in wanted if each.isprintable()}
    assert [each for each in shown if each in kept] == [each for each in wanted if each in kept]


MATHML = {
    "div", "math", "mrow", "mi", "mn", "mo", "ms", "mtext", "mspace", "mstyle", "msub", "msup", "msubsup", "mfrac",
    "msqrt", "mpadded", "munder", "mover", "merror", "mphantom",
}  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_foreign_text_in_a_formula_makes_no_element_but_mathml(text: str, demo: Handbook) -> None:
    plain = re.sub(r"[$\\{}#%&^_~]", "", text)
    for tex in (plain, f"\\text{{{plain}}}", f"x + \\text{{{plain}}}"):
        written = f"$$ {tex} $$"
        shown = rendered(Facts(demo), written)
        if list(troubles(Facts(demo), written)):
            assert shown == written
        else:
            assert {each.tag for each in parse(shown).all("div", css="nb-formula")[0]} <= MATHML


def test_hostile_name_is_told_and_not_shown(demo: Handbook) -> None:
    for text in HOSTILE:
        inside = re.sub(r"[\[\]\n]", "", text)
        for each in troubles(Facts(demo), f"[[test {RECORDS[0]}: {inside}]]"):
            assert each.rule.id == "prose-value"
            assert each.message


def test_pictures_of_one_page_share_no_id(demo: Handbook) -> None:
    notation = (
        f"test {RECORDS[0]}: chart", f"test {RECORDS[0]}: chart", f"test {RECORDS[0]}: pendulum drawing",
        "hammer bench-1/charpy-1: pendulum drawing", "exercise notched-charpy: support drawing",
        "exercise notched-charpy: specimen drawing", "exercise notched-charpy: results chart",
        "material pp-h: results chart", f"test {RECORDS[0]}: interval chart",
        "verification 2026-09-08-bench-1-charpy-1: loss chart", f"tests {RECORDS[0]},{RECORDS[1]}: comparison chart",
    )  # fmt: skip
    text = "\n\n".join(f"[[{each}]]" for each in notation)
    page = _page(demo, text)
    assert len(page.all("figure", css="nb-chart")) == len(notation)
    ids = ID.findall(rendered(Facts(demo), text))
    assert ids
    assert len(set(ids)) == len(ids)
    assert all(not each.all("figure") for each in page.all("p"))


def test_picture_of_chosen_tests_keeps_their_order(demo: Handbook) -> None:
    cold, warm = "2026-10-23-g7-pp-b-cold", "2026-03-25-g5-pp-b-notched"
    for order in ((cold, warm), (warm, cold)):
        texts = [each.text for each in _page(demo, f"[[tests {','.join(order)}: comparison chart]]").all("text")]
        headings = [each for each in texts if each.startswith("PP-B")]
        temperatures = [demo.library.records[each].conditioning.temperature_C for each in order]
        assert [float(re.findall(r"(−?[\d.]+) °C", each)[0].replace("−", "-")) for each in headings] == temperatures


def _with_pages(root: Path, pages: dict[str, str]) -> Path:
    small.write(root, small.files())
    settings = root / "mkdocs.yml"
    settings.write_text(
        "site_name: x\ndocs_dir: pages\nplugins:\n  - notchbook:\n      deviations: refuse\n", encoding="utf-8"
    )
    for path, text in pages.items():
        (root / "pages" / path).parent.mkdir(parents=True, exist_ok=True)
        (root / "pages" / path).write_text(text, encoding="utf-8")
    return root


BAD_PAGES = {
    "index.md": "# One\n\nGöteborg: [[material pp-x: title]] and $\\nosuch$.\n",
    "sub/two.md": "$$\na\n+ \\nosuch\n$$\n",
    "sub/three.txt": "[[nothing]]",
}
PLACES = [
    ("pages/index.md", 3, 11, "prose-value"),
    ("pages/index.md", 3, 41, "prose-formula"),
    ("pages/sub/two.md", 3, 3, "prose-formula"),
]


def test_findings_stand_at_their_line_and_column(tmp_path: Path) -> None:
    from notchbook.handbook import open_handbook

    root = _with_pages(tmp_path / "handbook", BAD_PAGES)
    handbook = checked(open_handbook(root, day=small.DAY))
    found = [(each.path, each.line, each.column, each.rule) for each in handbook.findings if "prose" in each.rule]
    assert found == PLACES
    assert list(handbook.findings) == sorted(handbook.findings, key=lambda each: each.order)


def _check(root: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "notchbook", "check", "--root", str(root)]
    return subprocess.run(command, capture_output=True, encoding="utf-8", check=False)


def test_command_tells_them_and_fails(tmp_path: Path) -> None:
    root = _with_pages(tmp_path / "handbook", BAD_PAGES)
    done = _check(root)
    assert done.returncode == 1
    for path, line, column, rule in PLACES:
        assert re.search(rf"^{path}:{line}:{column}: error: .*\[{rule}\]$", done.stdout, re.MULTILINE)
    shutil.rmtree(root / "pages")
    again = _check(root)
    assert again.returncode == 0, again.stdout


def test_page_that_is_no_text_is_told(tmp_path: Path) -> None:
    from notchbook.handbook import open_handbook

    root = _with_pages(tmp_path / "handbook", {"index.md": "fine"})
    (root / "pages/broken.md").write_bytes(b"\xff\xfe[[nothing]]")
    found = checked(open_handbook(root, day=small.DAY)).findings
    assert [(each.rule, each.line) for each in found if each.path == "pages/broken.md"] == [("file-text", 1)]


def test_two_tests_are_set_against_each_other(demo: Handbook) -> None:
    """As the command says it (tests/commands); what is not comparable says so in place of a number."""
    pair = "2025-10-06-lt-1-pp-h-notched,2026-10-07-g2-pp-h-notched/C"
    assert "0.27 ± 0.20 kJ/m² higher" in _page(demo, f"[[tests {pair}: difference]]").text
    assert "0.07 to 0.47 kJ/m²" in _page(demo, f"[[tests {pair}: interval of difference]]").text
    assert "does not contain 0" in _page(demo, f"[[tests {pair}: comparison]]").text
    assert "1.07" in _page(demo, f"[[tests {pair}: ratio]]").text
    other = "2025-11-05-g1-ps-notched,2026-02-25-g5-ps-unnotched"
    assert "not comparable: different tests" in _page(demo, f"[[tests {other}: difference]]").text
