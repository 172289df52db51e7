"""Pages of the materials, and their index."""

from collections.abc import Iterator

from notchbook.facts.facts import Facts
from notchbook.pages.comparison.pages import links_to
from notchbook.pages.material.comparison import by_test
from notchbook.pages.page import OF_MANY_RECORDS, TOC, Page, page_uri

INDEX = "materials/index.md"
FOLDER = "materials"


def material_pages(facts: Facts) -> Iterator[Page]:
    """One page a material."""
    for material_id, material in facts.materials.items():
        own = facts.records_of_material(material_id)
        values = {
            "material": material,
            "methods": facts.methods,
            "lines": own,
            "sensitivity": facts.notch_sensitivity[material_id],
            "compared": links_to(facts, "material", material_id),
            "chart": by_test(f"Results of {material.title}", own),
        }
        document = facts.document("material", material_id)
        yield Page(
            page_uri(FOLDER, material_id), "material.html.j2", material.title, values, document.path, hidden=TOC,
            found_as=f"{material.symbol}: {material.title}", boost=OF_MANY_RECORDS,
        )  # fmt: skip


def materials_index(facts: Facts) -> Page:
    """The list of materials with the number of their records."""
    rows = [(each, len(facts.records_of_material(each.id))) for each in facts.materials.values()]
    return Page(INDEX, "materials.html.j2", "Materials", {"rows": rows})
