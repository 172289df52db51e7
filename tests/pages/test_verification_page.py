"""The page of a verification: a row a quantity, which passes where the checks find nothing and fails where they do."""

import shutil
from pathlib import Path

import pytest
from page_html import pages_of

import small_handbook as small
from notchbook.handbook import open_handbook

ROOT = Path(__file__).resolve().parents[2]
RECORD = "2025-09-09-bench-1-charpy-1"
URI = f"verifications/{RECORD}.md"


def results_of(page):
    """The verdict of each quantity by its name."""
    return column_of(page, "Result")


def column_of(page, head):
    """What stands in one column of the measured quantities, by their names."""
    table = page.all("table")[0]
    heads = [each.text for each in table.one("thead").all("th")]
    at = heads.index(head) - 1
    return {row.all("th")[0].text: row.all("td")[at].text for row in table.one("tbody").all("tr")}


def altered(tmp_path, old, new):
    for name in ("procedures", "results"):
        shutil.copytree(ROOT / name, tmp_path / name)
    path = tmp_path / "results/verifications" / f"{RECORD}.yaml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    handbook = open_handbook(tmp_path)
    return handbook, pages_of(handbook)[URI]


def test_a_departure_that_every_exercise_accepts_lets_the_hammer_be_used_and_is_named_so(tmp_path):
    contents = small.files()
    contents[small.VERIFICATION]["measured"] |= {"edge_angle_deg": 25.0}
    uri = f"verifications/{Path(small.VERIFICATION).stem}.md"
    page = pages_of(small.opened(tmp_path / "refused", contents))[uri]
    assert "does not conform" in [each.text for each in page.all("b")]
    accepted = {"rule": "striking-edge", "reason": "reground in summer", "accepted_by": "LT-1"}
    contents[small.EXERCISE]["accepted_deviations"] = [accepted]
    contents["mkdocs.yml"] = "site_name: x\nplugins:\n  - notchbook: {deviations: label}\n"
    handbook = small.opened(tmp_path / "accepted", contents)
    pages = pages_of(handbook)
    assert "departs as declared" in [each.text for each in pages[uri].all("b")]
    rig = pages["rigs/bench-1.md"]
    assert "departs as declared" in [each.text for each in rig.all("td")]
    assert not [each for each in rig.all("td") if "does not conform" in each.text]


@pytest.mark.parametrize(("weighing", "shown"), [(None, "(nominal)"), ({"force_N": 2.33, "arm_mm": 230.0}, "J")])
def test_energy_of_a_marked_mass_is_nominal_until_the_hammer_was_weighed(tmp_path, weighing, shown):
    contents = small.files()
    hammer = contents[small.RIG]["hammers"]["charpy-1"]
    contents[small.RIG]["hammers"]["bare"] = hammer | {"moment_Nm": hammer["moment_Nm"] / 2.0}
    for key in ("moment_Nm", "pendulum_mass_kg"):
        hammer.pop(key, None)
    marked_J = hammer["nominal_energy_J"] / 2.0
    contents[small.RIG]["hammers"]["charpy-1"] = {"base": "bare", "added_masses": [{"marked_J": marked_J}]}
    contents[small.VERIFICATION].pop("weighing", None)
    if weighing is not None:
        contents[small.VERIFICATION]["weighing"] = weighing
    page = pages_of(small.opened(tmp_path, contents))[f"verifications/{Path(small.VERIFICATION).stem}.md"]
    assert ("(nominal)" in page.text) == (shown == "(nominal)")


def test_every_verification_has_its_page_and_passes(demo, demo_pages):
    for each in demo.library.verifications:
        verdicts = results_of(demo_pages[f"verifications/{each}.md"])
        assert len(verdicts) > 10
        assert "fails" not in verdicts.values()
        assert "passes" in verdicts.values()


@pytest.mark.parametrize(
    ("old", "new", "rule", "row"),
    [
        ("span_mm: 62.2", "span_mm: 60.0", "support-span", "Span of the supports"),
        ("edge_angle_deg: 29.8", "edge_angle_deg: 25.0", "striking-edge", "Striking edge, angle"),
        ("striking_length_mm: 230.0", "striking_length_mm: 240.0", "striking-length", "Striking length"),
    ],
)
def test_a_row_fails_where_its_check_does(tmp_path, old, new, rule, row):
    handbook, page = altered(tmp_path, old, new)
    assert rule in {each.rule for each in handbook.findings_in("verification", RECORD)}
    failing = {name for name, verdict in results_of(page).items() if verdict.startswith("fails")}
    assert failing == {row}


def test_what_was_not_measured_is_said(tmp_path):
    _, page = altered(tmp_path, ", span_mm: 62.2", "")
    assert column_of(page, "Measured")["Span of the supports"] == "not measured"
    assert results_of(page)["Span of the supports"] == "–"


def test_the_losses_are_those_of_the_results(demo_pages, demo_results):
    found = demo_results["verifications"][RECORD]
    text = demo_pages[URI].text
    assert f"{found['loss_pct']:.2f} %" in text
    assert f"{found['pendulum_length_mm']:.1f} mm" in text


def test_both_forms_of_the_correction_stand_beside_each_other(demo_pages):
    text = demo_pages[URI].text
    assert "form of the plastics methods" in text
    assert "The form of the metals methods would take off" in text


def test_it_can_be_signed(demo_pages):
    assert "Responsible person" in demo_pages[URI].text


def test_the_rig_shows_its_losses_over_time_and_links_each_verification(demo, demo_pages):
    page = demo_pages["rigs/bench-1.md"]
    (chart, *_) = page.all("svg", css="nb-chart")
    assert "Losses of the hammers" in chart.one("title").text
    links = {each.attributes.get("href", "") for each in page.all("a")}
    own = [each for each in demo.library.verifications.values() if each.rig == "bench-1"]
    assert all(any(each.id in link for link in links) for each in own)


def test_a_rig_at_fault_does_not_let_its_verification_conform(tmp_path):
    for name in ("procedures", "results"):
        shutil.copytree(ROOT / name, tmp_path / name)
    path = tmp_path / "procedures/rigs/bench-1.yaml"
    text = path.read_text(encoding="utf-8")
    # charpy-1 is built on this hammer
    path.write_text(text.replace("moment_Nm: 0.2682", "moment_Nm: 0.3182", 1), encoding="utf-8")
    page = pages_of(open_handbook(tmp_path))[URI]
    assert results_of(page)["Potential energy, from the rig's file"] == "fails"
    assert "does not conform" in page.text
