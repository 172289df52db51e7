"""The reader once more with inputs that look for code not yet reached, where the library for that is installed."""

import importlib.util
import subprocess
import sys

_GUIDED = """
import atheris, sys
with atheris.instrument_imports(include=["notchbook.reading"]):
    from fuzz.targets import TARGETS
kinds = sorted({kind for kind, _ in __import__("fuzz.demo").demo.texts()})
def give(raw):
    TARGETS["reader"].give((kinds[raw[0] % len(kinds)] if raw else kinds[0], raw[1:]))
atheris.Setup([sys.argv[0], "-runs=" + sys.argv[1], "-verbosity=0", "-artifact_prefix=.fuzz/"], give)
atheris.Fuzz()
"""


def run(number: int) -> str:
    """One line about what was run; raises SystemExit where it failed."""
    if importlib.util.find_spec("atheris") is None:
        return "guided by coverage: left out, atheris is not installed"
    done = subprocess.run([sys.executable, "-c", _GUIDED, str(number)], check=False)  # noqa: S603
    if done.returncode:
        raise SystemExit("guided by coverage: FAILED, the input is kept in .fuzz/")
    return f"guided by coverage: {number:,} inputs of the reader"
