"""A text that is not in the form its key asks for: a date, an id, one of some choices."""

import datetime as dt
import re
from collections.abc import Callable

from notchbook.reading import rules
from notchbook.reading.lookalikes import CURLY_QUOTES, described, first_strange, plain_form
from notchbook.reading.refusal import Refusal, Said, name, shown
from notchbook.wording.nearest import nearest_of

_YEAR_FIRST = re.compile(r"(?P<year>\d{4})[-./ ]?(?P<month>\d{1,2})[-./ ]?(?P<day>\d{1,2})")
_YEAR_LAST = re.compile(r"(?P<first>\d{1,2})(?P<sign>[-./ ])\s*(?P<second>\d{1,2})(?P=sign)\s*(?P<year>\d{4})")
_LONGEST = 100
"""Characters of a text in which a form is looked for."""
_LIKE_A_CHOICE = 0.5  # of a few choices even a bad spelling can mean one alone


def say_choice(refusal: Refusal) -> Said:
    """Message, hint and rule for a value that is none of those that can be chosen."""
    choices = refusal.wanted if isinstance(refusal.wanted, list) else [refusal.wanted]
    names = {str(choice).lower(): str(choice) for choice in choices}
    said = str(refusal.instance)[:_LONGEST]
    nearest = nearest_of(plain_form(said).lower().strip(" \"'" + CURLY_QUOTES), names, _LIKE_A_CHOICE)
    hint = f"did you mean '{names[nearest]}'?" if nearest else f"write {' or '.join(names.values())}"
    message = f"{name(refusal)} is {shown(refusal.instance)}; it can be {', '.join(names.values())}"
    return f"{message}{_strange(said)}", hint, rules.VALUE_FORM


def say_pattern(refusal: Refusal) -> Said:
    """Message, hint and rule for a text that does not match its pattern."""
    examples = refusal.schema.get("examples", ())
    about = refusal.schema.get("description", "")
    if isinstance(refusal.instance, str) and not refusal.instance.strip():
        return f"{name(refusal)} is blank", about or "write something, or leave the key out", rules.VALUE_FORM
    title = refusal.schema.get("title", "a key here")
    form = f"the form of {title[:1].lower()}{title[1:]}"
    said = str(refusal.instance)[:_LONGEST]
    hint = date_hint(refusal, said) or _nearest(refusal, said)
    if not hint:
        hint = f"write it like {examples[0]}" if examples else f"it must match {refusal.wanted}"
        hint = f"{hint}: {about}" if about else hint
    value = f"{name(refusal)} is {shown(refusal.instance)}, which"
    if refusal.about_a_key:
        value = f"the key {shown(refusal.instance)} in {name(refusal)}"
    return f"{value} is not in {form}{_strange(said)}", hint, rules.VALUE_FORM


def _strange(said: str) -> str:
    strange = first_strange(said)
    return f"; it holds {described(strange)}" if strange else ""


def date_hint(refusal: Refusal, said: str) -> str:
    """The date that a text gives in another form, as it is written here; both where day and month may be exchanged."""
    if refusal.schema.get("format") != "date":
        return ""
    said = plain_form(said).strip(" .,;\"'")
    form, last = _YEAR_FIRST.fullmatch(said), _YEAR_LAST.fullmatch(said)
    if form:
        dates = [_date(form["year"], form["month"], form["day"])]
    elif last:
        dates = [_date(last["year"], last["second"], last["first"])]
        if last["sign"] in "/-":
            # the day comes first in Europe, the month in North America
            dates.append(_date(last["year"], last["first"], last["second"]))
    else:
        return ""
    known = sorted({each for each in dates if each})
    return f"write {' or '.join(known)}: year, month and day in this order" if known else ""


def _date(year: str, month: str, day: str) -> str | None:
    try:
        return dt.date(int(year), int(month), int(day)).isoformat()
    except ValueError:
        return None


def _nearest(refusal: Refusal, said: str) -> str:
    """A text close to the one that was written, and in order."""
    parts = said.split()
    if len(parts) > 1 and refusal.keys and isinstance(refusal.keys[-1], int) and all(map(_fits(refusal), parts)):
        return f"write a comma between them: {', '.join(parts)}"
    plain = plain_form(said).strip(" ,;\"'`" + CURLY_QUOTES)
    plain = re.split(r"\s+(?://|/\*)", plain)[0]
    for meant in (plain, plain.lower(), re.sub(r"[\s_]+", "-", plain.lower())):
        if meant != said and _fits(refusal)(meant):
            return f"did you mean '{meant}'?"
    return ""


def _fits(refusal: Refusal) -> Callable[[str], bool]:
    pattern = re.compile(re.sub(r"\$\Z", r"\\Z", refusal.wanted))
    return lambda text: pattern.search(text) is not None
