"""Texts that are typed into the worksheet: in its files as they were typed, and none with an address of a person."""

import csv
import io
import random
from typing import Any

import node
import pytest
from cases import Case

from notchbook.reading.folder import EMAIL
from notchbook.reading.strict_yaml import parse
from notchbook.wording.csv_text import guarded

pytestmark = pytest.mark.repeats

TEXTS = (
    '"><script>hit()</script>', "it's \"so\": {a: 1}, [b]", "# x", "- x", "yes", "No", "null", "~", "0x10", "1e3",
    "007", "a: b # c", "&anchor *alias !tag", "%x", "@x", "`x`", "C:\\temp\\n \\u0041",
    "\U0001f600 e\u0301 \u0e01\u0e33", "\u202egnirts\u202c", "w\u2028x\u2029y\u0085z", "tab\there", "=1+1", "{{ x }}",
    "? x", "|", "> x", "---", "...", "x" * 200, "x\ufeff.", "null byte \x00, bell \x07, escape \x1b[31m.",
    "+1", "-1", "'=1", "abc;=cmd|' /C calc'!A0", "a;+1; -1;\"@x", "a\n=1", "a\r=1", "＝1", "\x1b[31m\u202e\u2028\x85.",
    "a\u061cb",
    "\U000e0041", "::error::x", "a\n ::error::x", "##[group]x", "###vso[x]", f"##{'g' * 40}[x]", f"##{'g' * 41}[x]",
    "2-3", "x, \"y\"", "23\xa0°C", "é漢😀", "two\nlines", "\ud83d half", "\x7f\x80\x9f\xa0\xad.", "\uffff\ufffe.",
)  # fmt: skip
ADDRESSES = (
    "a@b.cd", "a@b.c", "x.y+z-w@mail.example.org", "5 J@2.9 m/s", "a@b", "é@ü.de", "a@b.c1", "a@b.²³", "_@_._", "@b.cd",
    "a@-.de", f"{'a' * 65}@b.cd", f"a@{'b' * 63}.de", f"a@{'b' * 64}.de", f"a@b.{'c' * 63}", f"a@b.{'c' * 64}",
    f"a@{'b.' * 10}de", f"a@{'b.' * 11}de", "a@b_.de", "a@@b.de", "(a@b.de)", "a@b.漢字", "a@٣.de", "a b@c.de d",
)  # fmt: skip
_MARGIN = "".join(map(chr, range(0x21))) + "\x85\xa0\u2028\u2029\ufeff"
"""What is taken away around a text."""
PIECES = (*"=+-@#:;'\"[]{}, \n\t\r\\.", "::", "##", "a", "B7", "\u202e", "\x85", "\xa0", "é", "😀", "b.de")


def _texts() -> list[str]:
    """Those above and as many again, put together by chance and the same each time."""
    chance = random.Random(179)  # noqa: S311
    made = ["".join(chance.choices(PIECES, k=chance.randrange(1, 9))) for _ in range(400)]
    # what stands around a text is taken away, and a text of nothing is none
    return [text for text in (*TEXTS, *ADDRESSES, *made) if text.strip(_MARGIN) == text and text]


def text_cases(cases: list[Case], job: dict[str, Any]) -> list[dict[str, Any]]:
    """A session for each text, that has it in every place for one."""
    session, listed = cases[0].session, []
    for text in _texts():
        fields = {**session.fields, "batch": text, "notes": f"{text}\n\nsecond: {text}."}
        bars = [{**session.bars[0], "id": text[:40].strip(_MARGIN), "excluded": text}, *session.bars[1:]]
        told = {"fields": fields, "bars": bars}
        listed.append({"data": job["cases"][0]["data"], "session": told, "expected": {"refused": []}, "computed": []})
    return listed


@pytest.fixture(scope="module")
def filed(cases: list[Case], job: dict[str, Any]) -> list[dict[str, Any]]:
    listed = text_cases(cases, job)
    found: list[dict[str, Any]] = node.run({**job, "cases": listed, "filed": list(range(len(listed)))})["files"]
    return found


def _on_paper(text: str) -> str:
    """A text as a file can hold it: one kind of line end, a mark for half a character."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return lines.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def judged(filed: list[dict[str, Any]]) -> list[str]:
    """What is wrong with the files of the sessions with texts."""
    wrong = []
    for text, files in zip(_texts(), filed, strict=True):
        if "\ud83d" not in text:
            (first, *_) = csv.DictReader(io.StringIO(files["csv"], newline=""))
            wanted = [guarded(text), guarded(text), guarded(text[:40].strip(_MARGIN))]
            if [first.get(name) for name in ("excluded", "batch", "specimen")] != wanted:
                wrong.append(f"table: {text!r}")
            if not first.get("energy_J") or first.get("width_mm", "") not in files["csv"]:
                wrong.append(f"table without numbers: {text!r}")
        if files["yaml"] is None:
            continue
        data, flaws = parse(files["yaml"])
        plain = _on_paper(text)
        if flaws or [data.get(key) for key in ("batch", "notes")] != [plain, f"{plain}\n\nsecond: {plain}."]:
            wrong.append(f"record: {text!r}")
        elif data["specimens"][0]["excluded"] != plain or data["specimens"][0]["id"] != _on_paper(
            text[:40].strip(_MARGIN)
        ):  # fmt: skip
            wrong.append(f"bar: {text!r}")
    return wrong


def test_texts_come_back_from_the_files_as_they_were_typed(filed: list[dict[str, Any]]) -> None:
    """From the record to the letter, and in the table as in the other tables of the handbook."""
    assert judged(filed) == []
    assert sum(files["yaml"] is not None for files in filed) > 300


def test_addresses_are_those_that_the_check_finds(cases: list[Case], job: dict[str, Any]) -> None:
    """The rule is one of files, so that it stands beside those of records: expected where the text has an address."""
    session = cases[0].session
    of_sound = job["cases"][0]["expected"]
    listed = []
    for text in (each for each in _texts() if "\ud83d" not in each):
        told = [["email-address", "notes", [], []]] if EMAIL.search(text) else []
        listed.append({
            "data": job["cases"][0]["data"],
            "session": {"fields": {**session.fields, "notes": text}, "bars": session.bars},
            "expected": {**of_sound, "findings": told},
            "computed": [],
        })  # fmt: skip
    assert sum(bool(each["expected"]["findings"]) for each in listed) > 9
    found = node.run({**job, "cases": listed})["differing"]
    assert [f"{listed[each['place']]['session']['fields']['notes']!r}: {each['why']}" for each in found] == []
