"""Pages of free swings that groups read, held against the results as data and against what stands in the file."""

import pytest

from html_tree import Element
from notchbook.handbook import Handbook
from notchbook.wording.numbers import to_decimals, to_figures

ANGLES, ENERGIES = "2026-10-06-g3-bench-1-charpy-1", "2026-10-08-g6-bench-2-charpy-7.5"


def _page(pages: dict[str, Element], record_id: str) -> Element:
    return pages[f"swings/{record_id}.md"]


@pytest.mark.parametrize("record_id", [ANGLES, ENERGIES])
def test_page_shows_losses_uncertainties_and_what_is_allowed(demo_pages, demo_results, record_id):
    text, found = _page(demo_pages, record_id).text, demo_results["swings"][record_id]
    for name in ("indicator_loss_J", "swing_loss_J"):
        assert f"{to_figures(found[name], 3)} J" in text
        assert f"± {to_figures(found[f'expanded_uncertainty_{name}'], 2)} J" in text
    assert f"{to_figures(found['later_swing_loss_J'], 3)} J" in text
    assert f"{to_decimals(found['loss_pct'], 2)} % of the nominal energy" in text
    assert f"± {to_decimals(found['expanded_uncertainty_loss_pct'], 2)} %" in text
    share = 100.0 * found["loss_pct"] / found["allowed_pct"]
    assert f"% allowed, of which this is {to_decimals(share, 0)} %" in text
    assert ("agrees" if found["agrees"] else "differs by more than the readings explain") in text
    assert "No test is corrected by these losses" in text


def test_page_shows_every_reading_as_it_was_written(demo_pages):
    text = _page(demo_pages, ANGLES).text
    assert all(f"{reading}°" in text for reading in (147.8, 148.6, 137.8, 146, 143.8, 141.6, 139.6))
    assert "Dying away, every 2 half swings" in text
    assert all(f"{reading} J" in _page(demo_pages, ENERGIES).text for reading in (0.026, 0.018, 0.206))


def test_energy_dies_away_by_the_series_where_there_is_one(demo_pages):
    assert len(_page(demo_pages, ANGLES).all("figure")) == 1
    assert "each half swing takes" in _page(demo_pages, ANGLES).one("figcaption").text


def test_exercise_and_rig_list_the_swings(demo: Handbook, demo_pages):
    for record_id, record in demo.library.swings.items():
        for uri in (f"exercises/{record.exercise}.md", f"rigs/{record.rig}.md"):
            links = [each.attributes.get("href", "") for each in demo_pages[uri].all("a")]
            assert sum(record_id in link for link in links) == 1
    others = [uri for uri in demo_pages if uri.startswith("exercises/") and "losses" not in uri]
    assert all("Free swings of groups" not in demo_pages[uri].text for uri in others)
