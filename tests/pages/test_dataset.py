"""What record and verification pages tell machines: a `Dataset` of schema.org.

The names of types and properties are those of the vocabulary of schema.org: Dataset, DataDownload, PropertyValue,
Organization. Required of a Dataset by Google's guide to structured data are a name and a description of 50 to 5000
characters (from memory).
"""

import json
from pathlib import Path
from typing import Any

import pytest
from page_html import pages_of

import hostile_handbook as hostile
import small_handbook as small
from html_tree import Element, parse
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.data.descriptions import CAUTION
from notchbook.pages.site import build_site

VERIFICATION_ID = "2026-09-14-bench-1-charpy-1"


def _dataset(page: Element) -> dict[str, Any]:
    (script,) = [each for each in page.all("script") if each.attributes.get("type") == "application/ld+json"]
    found: dict[str, Any] = json.loads(script.raw_text)
    return found


def test_every_record_and_verification_tells_of_its_data(
    demo: Handbook, demo_pages: dict[str, Element], demo_data: dict[str, str]
) -> None:
    for folder, objects in (("records", demo.library.records), ("verifications", demo.library.verifications)):
        for each in objects.values():
            page = demo_pages[f"{folder}/{each.id}.md"]
            found = _dataset(page)
            assert (found["@context"], found["@type"]) == ("https://schema.org", "Dataset")
            assert found["identifier"] == each.id
            assert found["name"]
            assert 50 <= len(found["description"]) <= 5000
            assert CAUTION in found["description"]
            assert found["description"].endswith(demo.settings.notice)
            assert found["dateCreated"] == found["temporalCoverage"] == each.date.isoformat()
            assert found["isAccessibleForFree"] is True
            assert "license" not in found
            code = each.group if folder == "records" else each.checked_by
            assert found["creator"] == {"@type": "Organization", "name": code}
            links = {link.attributes["href"] for link in page.all("a")}
            for form, download in zip(("csv", "json"), found["distribution"], strict=True):
                address = f"../data/{folder}/{each.id}.{form}"
                assert download["@type"] == "DataDownload"
                assert download["contentUrl"] == address
                assert address in links
                assert address.removeprefix("../") in demo_data
            types = [download["encodingFormat"] for download in found["distribution"]]
            assert types == ["text/csv", "application/json"]
            for measured in found["variableMeasured"]:
                assert set(measured) == {"@type", "name", "unitText", "unitCode"}
                assert measured["unitCode"].startswith("UCUM:")


def test_method_and_readings_are_those_of_the_record(demo_pages: dict[str, Element]) -> None:
    angle = _dataset(demo_pages["records/2026-10-14-g4-pp-h-notched.md"])
    assert angle["measurementTechnique"] == "ISO 179-1/1eA"
    names = [each["name"] for each in angle["variableMeasured"]]
    assert names == ["Width", "Thickness", "Remaining width", "Angle of rise", "Energy", "Loss", "Share used",
                     "Impact strength", "Expanded uncertainty"]  # fmt: skip
    energy = _dataset(demo_pages["records/2026-10-20-g5-pp-h-izod.md"])
    names = [each["name"] for each in energy["variableMeasured"]]
    assert "Indicated energy" in names
    assert "Angle of rise" not in names


def test_links_lead_to_what_the_columns_mean(demo_pages: dict[str, Element]) -> None:
    anchors = {each.attributes["id"] for each in demo_pages["data.md"].all("h2")}
    for uri, part in (("records/2026-10-14-g4-pp-h-notched.md", "bars-of-one-record"),
                      ("verifications/2026-09-08-bench-1-charpy-1.md", "verifications")):  # fmt: skip
        assert f"../data.html#{part}" in {each.attributes["href"] for each in demo_pages[uri].all("a")}
        assert part in anchors


def test_addresses_are_whole_where_the_site_has_one(tmp_path: Path) -> None:
    handbook = small.opened(tmp_path)
    for directory_urls in (False, True):
        site = build_site(handbook, site_url="https://lab.example/handbook/", directory_urls=directory_urls)
        found = _dataset(parse(site.pages[f"records/{small.TEST_ID}.md"].body))
        start = f"https://lab.example/handbook/data/records/{small.TEST_ID}"
        assert [each["contentUrl"] for each in found["distribution"]] == [f"{start}.csv", f"{start}.json"]


def test_what_is_not_known_is_left_out(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.TEST] |= {"rig": "nowhere", "material": "unknown"}
    contents[small.VERIFICATION] |= {"hammer": "charpy-9"}
    pages = pages_of(small.opened(tmp_path, contents))
    for uri in (f"records/{small.TEST_ID}.md", f"verifications/{VERIFICATION_ID}.md"):
        found = _dataset(pages[uri])
        assert "measurementTechnique" not in found
        assert "None" not in json.dumps(found)
        assert "–" not in found["description"]


@pytest.mark.parametrize("shift", range(0, len(hostile.HOSTILE), 3))
def test_any_text_stays_inside(tmp_path: Path, shift: int) -> None:
    def text_of(number: int) -> str:
        return hostile.HOSTILE[(number + shift) % len(hostile.HOSTILE)]

    contents, _ = hostile.handbook_of(text_of, '<b>{0}`" '.format)
    notice = "</script><script>hit()</script> \u2028 {{ 7*7 }}"
    settings = f"plugins: [{{notchbook: {{deviations: label, notice: {json.dumps(notice)}}}}}]\n"
    small.write(tmp_path, {**contents, "mkdocs.yml": settings})
    handbook = open_handbook(tmp_path, day=small.DAY)
    assert handbook.settings.notice == notice
    pages = build_site(handbook).pages
    for record_id in handbook.library.records:
        content = pages[f"records/{record_id}.md"].body
        (line,) = [each for each in content.splitlines() if "application/ld+json" in each]
        inside = line.removeprefix('<script type="application/ld+json">').removesuffix("</script>")
        assert not set(inside) & set("<>&\u2028\u2029")
        found = _dataset(parse(content))
        assert found == json.loads(inside)
        assert found["description"].endswith("</script><script>hit()</script> {{ 7*7 }}")
