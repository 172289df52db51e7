"""One wrong id is told once, where it was written; what only follows from it is not told as well."""

import pytest

from conftest import Bench

PP_H = "results/tests/2026-10-06-g2-pp-h.yaml"
UNNOTCHED = "results/tests/2027-01-12-g4-pp-h-unnotched.yaml"
CHARPY = "procedures/exercises/notched-charpy.yaml"
RIG_1 = "procedures/rigs/rig-1.yaml"
_GAUGE = "set the supports to the span with a gauge"
_SPECIMEN = 'specimen: {type: "1", notch: A, direction: edgewise}'


@pytest.mark.parametrize(
    ("path", "right", "wrong", "rule", "named"),
    [
        (CHARPY, "[swinging-pendulum,", "[swinging-pendulums,", "hazard-known", "'swinging-pendulums'"),
        (CHARPY, "flying-fragments]", "flying-fragment]", "hazard-known", "'flying-fragment'"),
        (CHARPY, _SPECIMEN, _SPECIMEN.replace('"1"', '"7"'), "specimen-arrangement", "'7'"),
        (CHARPY, _SPECIMEN, _SPECIMEN.replace("A,", "D,"), "specimen-arrangement", "'D'"),
        (PP_H, _SPECIMEN, _SPECIMEN.replace('"1"', '"7"'), "specimen-agrees", "'7'"),
        (PP_H, _SPECIMEN, _SPECIMEN.replace("A,", "D,"), "specimen-agrees", "'D'"),
        (PP_H, _SPECIMEN, _SPECIMEN.replace("edgewise", "flatwise"), "specimen-agrees", "'flatwise'"),
        (UNNOTCHED, "notch: none", "notch: nome", "specimen-agrees", "'nome'"),
    ],
)
def test_wrong_id_is_told_once(bench: Bench, path: str, right: str, wrong: str, rule: str, named: str) -> None:
    bench.change(path, (right, wrong))
    (found,) = bench.open().findings
    assert (found.path, found.rule) == (path, rule)
    assert named in found.message


def test_unknown_break_type_leaves_the_reported_mean_alone(bench: Bench) -> None:
    row = '{id: "04", width_mm: 10.00'
    text = (bench.root / PP_H).read_text(encoding="utf-8")
    line = next(each for each in text.splitlines() if row in each)
    bench.change(PP_H, (line, line.replace("break: C", "break: X")))
    assert [each.rule for each in bench.open().findings] == ["break-type"]


def test_older_gap_is_spoken_of_where_it_was_set(bench: Bench) -> None:
    # 60 mm for the 80 x 10 x 4 bar: public page of a national standard of the 1982 family.
    bench.change(RIG_1, ("span_mm: 62.2", "span_mm: 60.0"))
    assert bench.findings("support-span")[0].hint.startswith(f"{_GAUGE}; a gap of 60 mm is that of other texts;")
    bench.change(RIG_1, ("span_mm: 60.0", "span_mm: 64.0"))
    assert bench.findings("support-span")[0].hint.startswith(f"{_GAUGE}; tests that rest on it")
