"""The pages of a method and of the one that it is based on show what differs, why and who set it."""

from pathlib import Path

from page_html import pages_of

import small_handbook as small

OWN = """
kind: method
based_on: iso-179-1
standard: House rule 3
energy_window: {high_pct: 85}
largest_hammer: false
differences:
  - {what: energy_window, reason: The class has <two> hammers., set_by: LT-1}
  - {what: largest_hammer, reason: The scale of the small one is finer., set_by: LT-2}
"""


def test_differences_stand_on_both_pages(tmp_path: Path) -> None:
    pages = pages_of(small.opened(tmp_path, {**small.files(), "procedures/methods/house.yaml": OWN}))
    for uri in ("methods/house.md", "methods/iso-179-1.md"):
        (table,) = [each for each in pages[uri].all("table") if "Reason" in each.text]
        rows = [[cell.text for cell in (*row.all("th"), *row.all("td"))] for row in table.one("tbody").all("tr")]
        assert rows == [
            ["energy_window", "80", "85", "The class has <two> hammers.", "LT-1"],
            ["largest_hammer", "true", "false", "The scale of the small one is finer.", "LT-2"],
        ]
    assert "any whose window holds the energies" in pages["methods/house.md"].text
    assert not [each for each in pages["methods/iso-180.md"].all("table") if "Reason" in each.text]
