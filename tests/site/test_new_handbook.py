"""A handbook that begins, as a site."""

from pathlib import Path

from click.testing import CliRunner
from site_building import built

from notchbook.cli import main


def test_what_the_command_writes_checks_and_builds_at_once(tmp_path: Path) -> None:
    folder = tmp_path / "lab"
    options = ["--name", 'Pendulum: a "first" look', "--scale", "energy", "--notice", "Try-out"]
    done = CliRunner().invoke(main, ["new", str(folder), *options])
    assert done.exit_code == 0, done.output
    assert "to fill in" in done.output
    checked = CliRunner().invoke(main, ["check", "--root", str(folder)])
    assert checked.exit_code == 0
    assert "to fill in: code and role" in checked.output
    site = built(folder, "--strict")
    home = (site / "index.html").read_text("utf-8")
    assert 'Pendulum: a "first" look' in home.replace("&quot;", '"').replace("&#34;", '"')
    assert "Try-out" in home
    assert (site / "guide/year.html").is_file()
