"""`notchbook uncertainty`: both intervals of every mean, against the engine, and how it refuses."""

import json
import re

import pytest
from click.testing import CliRunner

import small_handbook as small
from notchbook.cli import main
from notchbook.facts.drawn import drawn_of
from notchbook.facts.facts import Facts


@pytest.fixture(scope="module")
def root(tmp_path_factory):
    return small.write(tmp_path_factory.mktemp("handbook"), small.files())


def ran(root, *arguments):
    return CliRunner().invoke(main, ["uncertainty", small.TEST_ID, "--root", str(root), *arguments])


def test_json_has_both_ways_for_every_set(root):
    printed = ran(root, "--draws", "4000", "--seed", "9", "--format", "json")
    assert printed.exit_code == 0
    found = json.loads(printed.stdout)
    assert (found["test"], found["draws"], found["seed"]) == (small.TEST_ID, 4000, 9)
    line = Facts(small.opened(root)).record(small.TEST_ID)
    for row, each in zip(found["sets"], line.sets, strict=True):
        beside, uncertainty = drawn_of(each, 4000, 9), each.uncertainty
        drawn = beside and beside.drawn
        assert (row["breaks"], row["n"]) == (list(each.result.breaks), each.n)
        assert row["expanded_uncertainty_kJ_m2"] == (uncertainty and uncertainty.expanded)
        assert row["drawn_interval_kJ_m2"] == (drawn and [drawn.low, drawn.high])
        assert row["drawn_standard_uncertainty_kJ_m2"] == (drawn and drawn.standard)
    assert [row["agrees"] for row in found["sets"]] == [False, None]


def test_text_says_both_and_whether_they_agree(root):
    printed = ran(root, "--draws", "4000").stdout
    lines = printed.splitlines()
    assert lines[0] == f"{small.TEST_ID}: mean strength at 95 %, kJ/m²"
    assert lines[1] == "CH, 9 bars:"
    numbers = r"\d\.\d+, \d\.\d+ to \d\.\d+; u = 0\.\d+"
    assert re.fullmatch(rf"  first order: {numbers}", lines[2])
    assert re.fullmatch(rf"  4,000 draws, seed 1: {numbers}", lines[3])
    apart = r"their ends are up to 0\.\d+ apart, 0\.\d+ may be \(JCGM 101:2008, 8\.1\)"
    assert re.fullmatch(rf"  they differ, .*; {apart}", lines[4])
    assert lines[5:] == ["P, 1 bar: no uncertainty, as one bar has no scatter"]


def test_the_same_seed_prints_the_same(root):
    first, again, other = (ran(root, "--draws", "2000", "--seed", seed).stdout for seed in ("3", "3", "4"))
    assert first == again
    assert first != other


@pytest.mark.parametrize("words", [["--draws", "10"], ["--draws", "many"], ["--seed", "-1"]])
def test_numbers_out_of_bounds_are_refused(root, words):
    printed = ran(root, *words)
    assert printed.exit_code == 2
    assert words[0] in printed.stderr


def test_an_unknown_record_is_refused_with_the_nearest(root):
    printed = CliRunner().invoke(main, ["uncertainty", "2026-10-06-g2-pp", "--root", str(root)])
    assert (printed.exit_code, printed.stdout) == (2, "")
    assert f"did you mean '{small.TEST_ID}'?" in printed.stderr


def test_a_record_without_a_mean_is_refused(tmp_path):
    changed = small.files()
    for bar in changed[small.TEST]["specimens"]:
        bar["break"] = "N"
    printed = CliRunner().invoke(main, ["uncertainty", small.TEST_ID, "--root", str(small.write(tmp_path, changed))])
    assert printed.exit_code == 2
    assert "there is no mean" in printed.stderr
