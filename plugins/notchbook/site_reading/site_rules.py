"""Rules about what a site is made of besides data: settings, hand-written pages and files, its place."""

from notchbook.findings import Rule

PROSE_VALUE = Rule(
    "prose-value",
    "A hand-written page names values that exist",
    "A value that cannot be had would be missing from the sentence that was written around it.",
    "the notation of hand-written pages",
    "Choose a name from the page of values, or put the text in backticks if it is meant as it stands.",
)
PROSE_FORMULA = Rule(
    "prose-formula",
    "A hand-written page's formulae can be set",
    "A formula that cannot be read is worse than none.",
    "the notation of hand-written pages",
    "Correct the formula at the place that the finding names.",
)
PAGE_MARKUP = Rule(
    "page-markup",
    "A hand-written page holds only HTML that says, marks or shows something where it stands",
    "A script, a frame or a form of a stranger's page acts in the name of the laboratory, on every reader's phone.",
    "what a sanitiser leaves; the list is in the guide to pages by hand",
    "Say it in Markdown, or take it out; a department that trusts all its authors can set raw_html to publish.",
)
PAGE_LINK = Rule(
    "page-link",
    "A link leads to a page or an address of the web, and what is shown lies in the handbook",
    "A link can carry a script, and a picture from another host tells that host who reads the handbook and when.",
    "what a sanitiser leaves; the list is in the guide to pages by hand",
    "Write the whole address with https:// in front, and copy pictures into the folder of the pages.",
)
DOCS_FILE = Rule(
    "docs-file",
    "A file among the hand-written pages is what its name says, and runs nothing",
    "A file is published as it is: a page of HTML or a drawing with a script acts as if the laboratory had written it.",
    "what browsers do with a file of that kind",
    "Write a page in Markdown, save the drawing without scripts and links, or put the file into an archive.",
)
SETTINGS = Rule(
    "settings",
    "The plugin's settings in mkdocs.yml are ones it knows",
    "A misspelt setting is silently without effect.",
    "contract of mkdocs.yml",
    "Correct the setting in mkdocs.yml; the finding lists those that are known.",
)
SITE_PLACE = Rule(
    "site-place",
    "A site is written where nothing else lies",
    "A build empties the folder of the site: readings, pages or the history of the handbook would be gone.",
    "contract of mkdocs.yml",
    "Name a folder as site_dir that holds the site alone, or that is not there yet.",
)
COMPUTED_ADDRESS = Rule(
    "computed-address",
    "No file takes the place of what is computed",
    "A page written by hand would be read as a result that the readings gave, or as an exercise with its cautions.",
    "contract of the hand-written pages",
    "Give the file another name or folder; a computed value can be shown in any page of your own.",
)

RULES = (
    PROSE_VALUE,
    PROSE_FORMULA,
    PAGE_MARKUP,
    PAGE_LINK,
    DOCS_FILE,
    SETTINGS,
    SITE_PLACE,
    COMPUTED_ADDRESS,
)
