"""A handbook to write records into, and the commands run in it."""

import shutil

from click.testing import CliRunner

import small_handbook as small
from notchbook.cli import main

SETUP = ["--exercise", "notched-charpy", "--rig", "bench-1", "--hammer", "charpy-1"]
COMMON = [
    *SETUP, "--date", "2026-10-13", "--group", "G2", "--material", "pp-h", "--conditioning-temperature", "23.0",
    "--conditioning-humidity", "50", "--conditioning-hours", "48", "--atmosphere-temperature", "23.4",
    "--atmosphere-humidity", "47",
]  # fmt: skip
DEFAULT = "results/tests/2026-10-13-g2-pp-h-notched-charpy.yaml"


def handbook(folder, *, with_schema=False):
    """The small handbook without its test record."""
    contents = small.files()
    del contents[small.TEST]
    root = small.write(folder, contents)
    if with_schema:
        shutil.copytree(small.PACKAGE_METHODS.parents[2] / "schema", root / "schema")
    return root


def run(root, *arguments):
    """Exit status, standard output and standard error of a command about records."""
    result = CliRunner().invoke(main, ["record", *map(str, arguments), "--root", str(root)])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr
