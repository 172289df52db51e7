"""Pages of the materials, and their index."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.pages.material.comparison import by_test
from notchbook.pages.material.sensitivity import sensitivity_lines
from notchbook.pages.page import OF_MANY_RECORDS, TOC, Page, page_uri
from notchbook.pages.results import result_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.handbook import Handbook

INDEX = "materials/index.md"
FOLDER = "materials"


def material_pages(handbook: Handbook) -> Iterator[Page]:
    """One page a material."""
    lines = result_lines(handbook)
    for material_id in sorted(handbook.library.materials):
        material = handbook.library.materials[material_id]
        own = [line for line in lines if line.record.material == material_id]
        values = {
            "material": material,
            "methods": handbook.library.methods,
            "lines": own,
            "sensitivity": sensitivity_lines(own),
            "charts": by_test(f"Results of {material.title}", own),
        }
        document = handbook.documents["material", material_id]
        yield Page(
            page_uri(FOLDER, material_id), "material.html.j2", material.title, values, document.path, hidden=TOC,
            found_as=f"{material.symbol}: {material.title}", boost=OF_MANY_RECORDS,
        )  # fmt: skip


def materials_index(handbook: Handbook) -> Page:
    """The list of materials with the number of their records."""
    lines = result_lines(handbook)
    materials = [handbook.library.materials[each] for each in sorted(handbook.library.materials)]
    rows = [(material, sum(line.record.material == material.id for line in lines)) for material in materials]
    return Page(INDEX, "materials.html.j2", "Materials", {"rows": rows})
