"""What a page says of its data to machines: a `Dataset` of schema.org as JSON-LD."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts
from notchbook.facts.verifications import VerificationFacts
from notchbook.pages.data.columns import bars_table, verifications_table
from notchbook.pages.data.descriptions import CAUTION
from notchbook.pages.data.files import RECORDS, VERIFICATIONS, data_uri
from notchbook.pages.data.table import Table
from notchbook.pages.exercise.embedded_json import embedded
from notchbook.pages.page import Links
from notchbook.wording.dates import day_words
from notchbook.wording.lines import one_line
from notchbook.wording.lists import counted

_MEDIA_TYPES = {"csv": "text/csv", "json": "application/json"}


@dataclass(frozen=True, slots=True)
class Dataset:
    """The data behind one page."""

    id: str
    name: str
    description: str
    date: dt.date
    creator: str
    """Code of the group or role; never a name."""
    technique: str
    """The method's designation; empty where the method is not known."""
    table: Table
    read: frozenset[str]
    """Names of the readings that were taken."""
    csv_uri: str
    json_uri: str

    def json_ld(self, links: Links) -> Markup:
        """The data set in JSON-LD, for a script element of a page with these links."""
        day = self.date.isoformat()
        described: dict[str, Any] = {
            "@context": "https://schema.org",
            "@type": "Dataset",
            "identifier": self.id,
            "name": one_line(self.name),
            "description": one_line(self.description),
            "inLanguage": "en",
            "dateCreated": day,
            "temporalCoverage": day,
            "creator": {"@type": "Organization", "name": one_line(self.creator)},
            "isAccessibleForFree": True,
            "variableMeasured": [
                {
                    "@type": "PropertyValue",
                    "name": each.title,
                    "unitText": each.unit.shown,
                    "unitCode": f"UCUM:{each.unit.ucum}",
                }
                for each in self.table.columns
                if each.unit is not None and (each.name in self.read or each.name not in self.table.read)
            ],
            "distribution": [
                {"@type": "DataDownload", "encodingFormat": _MEDIA_TYPES[form], "contentUrl": _address(links, uri)}
                for form, uri in (("csv", self.csv_uri), ("json", self.json_uri))
            ],
        }
        if self.technique:
            described["measurementTechnique"] = one_line(self.technique)
        return embedded(described)


def _address(links: Links, uri: str) -> str:
    """Address of a file from anywhere, or from the page where the site has no address."""
    return f"{links.site_url.rstrip('/')}/{uri}" if links.site_url else links.to(uri)


def record_dataset(line: RecordFacts, file: dict[str, Any], notice: str, title: str) -> Dataset:
    """The data of a record.

    Arguments:
        line: the record with its results.
        file: what stands in its file.
        notice: of the settings.
        title: that of its page.
    """
    record, technique = line.record, line.designation if line.method is not None else ""
    by = f" by {technique}" if technique else ""
    material = line.material.title if line.material else record.material
    description = (
        f"Readings and results of {counted(len(record.specimens), 'bar')} of {material}, tested{by} with a "
        f"pendulum on {day_words(record.date)}: dimensions, reading, absorbed energy, impact strength and uncertainty "
        f"of each bar. {CAUTION} {notice}"
    )
    read = {key for bar in file["specimens"] for key in bar}
    uris = (data_uri(RECORDS, record.id, form) for form in ("csv", "json"))
    return Dataset(
        record.id, title, description.strip(), record.date, record.group, technique, bars_table(), frozenset(read),
        *uris,
    )  # fmt: skip


def verification_dataset(facts: Facts, case: VerificationFacts, title: str) -> Dataset:
    """The data of a verification.

    Arguments:
        facts: those of its handbook.
        case: the verification.
        title: that of its page.
    """
    verification, technique = case.verification, case.method.standard if case.method is not None else ""
    by = f" by {technique}" if technique else ""
    description = (
        f"Readings and results of the verification of a pendulum{by} on {day_words(verification.date)}: what was "
        f"measured on it, its free swings and its losses. {CAUTION} {facts.notice}"
    )
    document = facts.document("verification", verification.id)
    read = {key for value in document.data.values() if isinstance(value, dict) for key in value}
    uris = (data_uri(VERIFICATIONS, verification.id, form) for form in ("csv", "json"))
    return Dataset(
        verification.id, title, description.strip(), verification.date, verification.checked_by, technique,
        verifications_table(), frozenset(read), *uris,
    )  # fmt: skip
