"""What is asked of a data file as such, before anything in it is compared with anything else."""

from notchbook.findings import Rule, Severity

_CONTRACT = "contract of the data files"
_YAML = "YAML 1.2.2, contract of the data files"

FILE_NAME = Rule(
    "file-name",
    "A data file is named by its id and ends in .yaml",
    "The file's stem is the id that other files refer to; one that is no id, or that some system cannot hold, is lost.",
    _CONTRACT,
    "Rename the file with small letters, digits, full stops and hyphens, ending in .yaml; not as a device on Windows.",
)
FILE_PLACE = Rule(
    "file-place",
    "A data file lies directly in its kind's folder, and all files inside the handbook",
    "A file in another place would silently be left out; what lies outside would be published, or run, unseen.",
    _CONTRACT,
    "Put the file itself, not a link to it, into the folder of its kind.",
)
FILE_SIZE = Rule(
    "file-size",
    "A data file is at most 1 MiB and 100,000 keys and values, a hand-written page at most 1 MiB",
    "A record of a thousand bars needs a tenth of that; a larger file is something else and keeps everybody waiting.",
    _CONTRACT,
    "Split the file, or take out what is no data.",
)
FILE_TEXT = Rule(
    "file-text",
    "A data file or page is readable UTF-8 text",
    "Bytes that are not text would be shown as something that nobody wrote.",
    _YAML,
    "Save the file as plain text in UTF-8 from a text editor.",
)
YAML_SYNTAX = Rule(
    "yaml-syntax",
    "A data file is one YAML document that holds one mapping",
    "What the reader cannot parse, it cannot check.",
    _YAML,
    "Mend the line that the finding names as it says; a table of common slips is in the guide to findings.",
)
YAML_FEATURE = Rule(
    "yaml-feature",
    "Anchors, aliases and tags are not used",
    "An alias lets a short file grow without bound and hides which value a reviewer is looking at.",
    _YAML,
    "Write the value out in full at each place.",
)
UNQUOTED_TEXT = Rule(
    "unquoted-text",
    "A text without quotation marks holds what was meant",
    "The file can be read, and the page says something else: a note ends at a number sign, two entries become one.",
    _YAML,
    "Put a text with a number sign in straight quotation marks, and begin every entry of a list in the same column.",
    Severity.WARNING,
)
DUPLICATE_KEY = Rule(
    "duplicate-key",
    "A key stands once in its mapping",
    "Of two values under one key, the reader and the reviewer may each believe another.",
    "YAML 1.2.2, 3.2.1.3",
    "Keep the line that is right and delete the other.",
)
NUMBER_FINITE = Rule(
    "number-finite",
    "A number is finite and of a usable length",
    "Infinity and not-a-number pass through every formula and come out as a result.",
    _CONTRACT,
    "Write the reading as a plain number, or leave the key out where there is none.",
)
NESTING = Rule(
    "nesting",
    "A data file is nested at most 20 levels deep",
    "No kind of file needs more than six; deeper nesting is a mistake or an attack.",
    _CONTRACT,
    "Look for an indent or a bracket that puts a mapping inside another by mistake.",
)
KEY_UNKNOWN = Rule(
    "key-unknown",
    "Every key is one that its kind of file knows",
    "A misspelt key is a value that nobody reads.",
    _CONTRACT,
    "Correct the spelling; the page of keys lists those of each kind of file.",
)
KEY_MISSING = Rule(
    "key-missing",
    "Every required key is there",
    "A result without its conditions cannot be compared with anything.",
    _CONTRACT,
    "Add the key at the level that the finding names, from the notes of the day.",
)
VALUE_TYPE = Rule(
    "value-type",
    "A value is of the type its key asks for",
    "A number in quotes or with its unit behind it is text and is not computed with.",
    _CONTRACT,
    "Write a number without quotation marks and without its unit; put a text that looks like a number in them.",
)
VALUE_RANGE = Rule(
    "value-range",
    "A value is one that has a physical meaning",
    "A negative length or an angle past the top cannot have been measured.",
    _CONTRACT,
    "Read the instrument or the note again, and see that the unit is the one in the key.",
)
VALUE_FORM = Rule(
    "value-form",
    "A value has the form its key asks for",
    "Dates, ids and choices are compared letter by letter.",
    _CONTRACT,
    "Write it in the form that the finding shows, such as 2026-10-06 for a date.",
)
DATE_REAL = Rule(
    "date-real",
    "A date exists in the calendar",
    "A day that never was cannot be put in order with others.",
    "ISO 8601-1",
    "Look the day up and write it as year, month and day.",
)
EMAIL_ADDRESS = Rule(
    "email-address",
    "No e-mail address stands in a data file",
    "The site is public; people are codes of a role or group.",
    _CONTRACT,
    "Replace the address by the code of a role or group, and take it out of the history if it was saved before.",
)
METHOD_BASE = Rule(
    "method-base",
    "A method is based on another one that there is, and not on itself",
    "What it does not say itself is taken from there.",
    _CONTRACT,
    "Write the id of a method that stands by itself, or that is based on one that does.",
)
METHOD_DIFFERENCES = Rule(
    "method-differences",
    "Each key that differs from the base has its reason, and each reason a key that differs",
    "A number that was changed in passing is held for the standard's; a reason without one hides that it was lost.",
    _CONTRACT,
    "Say under differences what differs, why, and who set it; take out what does not differ.",
)
TO_FILL_IN = Rule(
    "to-fill-in",
    "Nothing is left to fill in",
    "A handbook begins with figures and words that only the laboratory itself knows; a reader takes them for its own.",
    "contract of the data files; common practice, no source",
    "Put right what stands there and take the words 'to fill in:' away; a blank file loses its first line.",
    Severity.NOTE,
)

RULES = (
    FILE_NAME,
    FILE_PLACE,
    FILE_SIZE,
    FILE_TEXT,
    YAML_SYNTAX,
    YAML_FEATURE,
    UNQUOTED_TEXT,
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
    METHOD_BASE,
    METHOD_DIFFERENCES,
    TO_FILL_IN,
)
