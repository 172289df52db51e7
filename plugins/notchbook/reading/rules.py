"""What is asked of a data file as such, before anything in it is compared with anything else."""

from __future__ import annotations

from notchbook.findings import Rule

_CONTRACT = "contract of the data files"
_YAML = "YAML 1.2.2, contract of the data files"

FILE_NAME = Rule(
    "file-name",
    "A data file is named by its id and ends in .yaml",
    "The file's stem is the id that other files refer to; a name that is no id can never be referred to.",
    _CONTRACT,
)
FILE_PLACE = Rule(
    "file-place",
    "A data file lies directly in its kind's folder, inside the handbook",
    "A file in another place would silently be left out; a link out of the handbook would publish what is not in it.",
    _CONTRACT,
)
FILE_SIZE = Rule(
    "file-size",
    "A data file is at most 1 MiB",
    "A record of a thousand bars needs a tenth of that; a larger file is something else.",
    _CONTRACT,
)
FILE_TEXT = Rule(
    "file-text",
    "A data file is readable UTF-8 text",
    "Bytes that are not text would be shown as something that nobody wrote.",
    _YAML,
)
YAML_SYNTAX = Rule(
    "yaml-syntax",
    "A data file is one YAML document that holds one mapping",
    "What the reader cannot parse, it cannot check.",
    _YAML,
)
YAML_FEATURE = Rule(
    "yaml-feature",
    "Anchors, aliases and tags are not used",
    "An alias lets a short file grow without bound and hides which value a reviewer is looking at.",
    _YAML,
)
DUPLICATE_KEY = Rule(
    "duplicate-key",
    "A key stands once in its mapping",
    "Of two values under one key, the reader and the reviewer may each believe another.",
    "YAML 1.2.2, 3.2.1.3",
)
NUMBER_FINITE = Rule(
    "number-finite",
    "A number is finite and of a usable length",
    "Infinity and not-a-number pass through every formula and come out as a result.",
    _CONTRACT,
)
NESTING = Rule(
    "nesting",
    "A data file is nested at most 20 levels deep",
    "No kind of file needs more than six; deeper nesting is a mistake or an attack.",
    _CONTRACT,
)
KEY_UNKNOWN = Rule(
    "key-unknown",
    "Every key is one that its kind of file knows",
    "A misspelt key is a value that nobody reads.",
    _CONTRACT,
)
KEY_MISSING = Rule(
    "key-missing",
    "Every required key is there",
    "A result without its conditions cannot be compared with anything.",
    _CONTRACT,
)
VALUE_TYPE = Rule(
    "value-type",
    "A value is of the type its key asks for",
    "A number in quotes or with its unit behind it is text and is not computed with.",
    _CONTRACT,
)
VALUE_RANGE = Rule(
    "value-range",
    "A value is one that has a physical meaning",
    "A negative length or an angle past the top cannot have been measured.",
    _CONTRACT,
)
VALUE_FORM = Rule(
    "value-form",
    "A value has the form its key asks for",
    "Dates, ids and choices are compared letter by letter.",
    _CONTRACT,
)
DATE_REAL = Rule(
    "date-real",
    "A date exists in the calendar",
    "A day that never was cannot be put in order with others.",
    "ISO 8601-1",
)
EMAIL_ADDRESS = Rule(
    "email-address",
    "No e-mail address stands in a data file",
    "The site is public; people are codes of a role or group.",
    _CONTRACT,
)
PROSE_VALUE = Rule(
    "prose-value",
    "A hand-written page names values that exist",
    "A value that cannot be had would be missing from the sentence that was written around it.",
    "the notation of hand-written pages",
)
PROSE_FORMULA = Rule(
    "prose-formula",
    "A hand-written page's formulae can be set",
    "A formula that cannot be read is worse than none.",
    "the notation of hand-written pages",
)
SETTINGS = Rule(
    "settings",
    "The plugin's settings in mkdocs.yml are ones it knows",
    "A misspelt setting is silently without effect.",
    "contract of mkdocs.yml",
)

RULES = (
    FILE_NAME,
    FILE_PLACE,
    FILE_SIZE,
    FILE_TEXT,
    YAML_SYNTAX,
    YAML_FEATURE,
    DUPLICATE_KEY,
    NUMBER_FINITE,
    NESTING,
    KEY_UNKNOWN,
    KEY_MISSING,
    VALUE_TYPE,
    VALUE_RANGE,
    VALUE_FORM,
    DATE_REAL,
    EMAIL_ADDRESS,
    PROSE_VALUE,
    PROSE_FORMULA,
    SETTINGS,
)
