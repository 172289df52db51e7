"""One page of each type, and two where the type has two faces."""

from repeating import repeated

PAGES = (
    "index.html", "about.html", "checks.html", "404.html",
    "exercises/index.html", "exercises/notched-charpy.html", "exercises/pendulum-losses.html",
    "rigs/index.html", "rigs/bench-2.html", "rigs/bench-2--wall-card.html",
    "verifications/2026-09-08-bench-1-charpy-1.html",
    "lookup/index.html", "lookup/bench-2--izod-1.html",
    "materials/index.html", "materials/pp-h.html",
    "methods/index.html", "methods/iso-179-1.html",
    "records/index.html", "records/2026-10-14-g4-pp-h-notched.html", "records/2026-03-18-g8-hips-unnotched.html",
    "comparisons/index.html", "comparisons/notched-charpy_pp-h_2026-08.html", "comparisons/two-sets.html",
    "data.html", "reference/keys.html", "guide/exercise.html", "theory/energy.html",
)  # fmt: skip
RECORDS = tuple(each for each in PAGES if each.startswith("records/2"))
EXERCISES = tuple(each for each in PAGES if each.startswith("exercises/") and not each.endswith("index.html"))
FIRST_LOOKED_AT = (
    "exercises/notched-charpy.html", "rigs/bench-2--wall-card.html", "lookup/bench-2--izod-1.html",
    "records/2026-10-14-g4-pp-h-notched.html", "theory/energy.html",
)  # fmt: skip
"""Pages that hold between them every kind of part: safety, steps, forms, tables, charts, drawings and formulae."""
EACH_PAGE = repeated(PAGES, but=FIRST_LOOKED_AT)
