"""Pages of the rigs, and their index."""

from collections.abc import Container, Iterator

from notchbook.facts.facts import Facts
from notchbook.facts.hammers import next_due
from notchbook.pages.page import OF_MANY_RECORDS, TOC, Page, page_uri
from notchbook.pages.rig.losses import over_time
from notchbook.pages.rig.watch import watch_section

INDEX = "rigs/index.md"
FOLDER = "rigs"


def wall_card_name(rig_id: str, rigs: Container[str]) -> str:
    """File name of a rig's wall card: no rig's page, because no id holds an underscore."""
    name = f"{rig_id}--wall-card"
    return f"{name}_" if name in rigs else name


def rig_pages(facts: Facts) -> Iterator[Page]:
    """One page a rig."""
    for rig_id, each in facts.rigs.items():
        values = {
            "rig": each.rig,
            "hammers": each.hammers,
            "divisions": each.divisions,
            "next_due": next_due(each.hammers),
            "losses": over_time(each),
            "growing": each.growing,
            "watch": watch_section(each, facts.materials),
            "repairs": sorted(each.rig.repairs, key=lambda repair: repair.on, reverse=True),
            "verifications": [line for line in facts.newest_verifications if line.verification.rig == rig_id],
            "swings": facts.swings_of("rig", rig_id),
            "wall_card": wall_card_name(rig_id, facts.rigs),
        }
        path = facts.document("rig", rig_id).path
        yield Page(
            page_uri(FOLDER, rig_id), "rig.html.j2", each.rig.title, values, path, hidden=TOC, boost=OF_MANY_RECORDS
        )


def rigs_index(facts: Facts) -> Page:
    """The list of rigs with their hammers."""
    return Page(INDEX, "rigs.html.j2", "Rigs", {"rigs": list(facts.rigs.values())})
