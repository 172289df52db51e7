"""Builds of the demo that are killed, run out of room or run twice at once: the site is the old one or the new one."""

import os
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from site_building import build, contents, environment, small_demo

pytestmark = [
    pytest.mark.repeats,
    pytest.mark.skipif(sys.platform == "win32", reason="needs the signals and limits of a Unix system"),
]
COMMAND = [sys.executable, "-m", "mkdocs", "build", "-q"]


@pytest.fixture(scope="module")
def two_sites(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, bytes], dict[str, bytes], float]:
    """A demo, its site, its site after a change, and how long a build takes; the change is made, not built."""
    root = small_demo(tmp_path_factory.mktemp("cut"))
    done = build(root)
    assert done.returncode == 0, done.stdout
    old = contents(root / "site")
    rig = root / "procedures/rigs/bench-1.yaml"
    rig.write_text(rig.read_text(encoding="utf-8").replace("Bench pendulum 1", "Other pendulum"), encoding="utf-8")
    began = time.monotonic()
    assert build(root, "-d", str(root / "elsewhere/site")).returncode == 0
    took = time.monotonic() - began
    new = contents(root / "elsewhere/site")
    assert old != new
    return root, old, new, took


def beside(root: Path) -> list[str]:
    return sorted(each.name for each in root.iterdir() if each.name.startswith(".site"))


@pytest.mark.repeats
def test_killed_at_any_moment_it_is_the_old_site_or_the_new_one(
    two_sites: tuple[Path, dict[str, bytes], dict[str, bytes], float],
) -> None:
    root, old, new, took = two_sites
    for share in (0.3, 0.5, 0.7, 0.85, 0.95, 1.05):
        with subprocess.Popen(COMMAND, cwd=root, env=environment(), stderr=subprocess.DEVNULL) as process:
            time.sleep(share * took)
            process.send_signal(signal.SIGKILL)
        assert contents(root / "site") in (old, new)
    done = build(root)
    assert done.returncode == 0, done.stdout
    assert contents(root / "site") == new
    assert beside(root) == []


@pytest.mark.repeats
def test_two_builds_at_once_do_not_mix(two_sites: tuple[Path, dict[str, bytes], dict[str, bytes], float]) -> None:
    root, _, new, _ = two_sites
    running = [subprocess.Popen(COMMAND, cwd=root, env=environment(), stderr=subprocess.DEVNULL) for _ in range(2)]
    assert [each.wait(timeout=300) for each in running] == [0, 0]
    assert contents(root / "site") == new
    assert beside(root) == []


def test_a_full_disk_is_one_clear_line(
    two_sites: tuple[Path, dict[str, bytes], dict[str, bytes], float],
) -> None:
    root, _, new, _ = two_sites
    build(root)

    def no_room() -> None:
        # writing past the limit fails as on a full disk, where the signal for it is ignored
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

    done = subprocess.run(
        COMMAND, cwd=root, env=environment(), capture_output=True, text=True, preexec_fn=no_room, check=False
    )
    assert done.returncode != 0
    assert "Traceback" not in done.stderr
    assert "the site cannot be written, an earlier one is as it was" in done.stderr
    assert contents(root / "site") == new
    assert beside(root) == []


def test_a_place_that_cannot_be_written_is_one_clear_line(
    two_sites: tuple[Path, dict[str, bytes], dict[str, bytes], float], tmp_path: Path
) -> None:
    root, *_ = two_sites
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    done = build(root, "-d", str(tmp_path / "file/site"))
    assert done.returncode != 0
    assert "Traceback" not in done.stdout
    assert "the site cannot be made in" in done.stdout


@pytest.mark.skipif(os.geteuid() == 0 if hasattr(os, "geteuid") else True, reason="may write everywhere")
def test_a_folder_that_is_read_only_is_one_clear_line(
    two_sites: tuple[Path, dict[str, bytes], dict[str, bytes], float], tmp_path: Path
) -> None:
    root, *_ = two_sites
    (tmp_path / "closed").mkdir(mode=0o500)
    done = build(root, "-d", str(tmp_path / "closed/site"))
    assert "the site cannot be made in" in done.stdout


def test_a_strict_build_with_a_warning_leaves_the_site(
    two_sites: tuple[Path, dict[str, bytes], dict[str, bytes], float],
) -> None:
    root, _, new, _ = two_sites
    build(root)
    (root / "site_src/page.md").write_text("# A page\n\n[nowhere](nowhere.md)\n", encoding="utf-8")
    done = build(root, "--strict")
    (root / "site_src/page.md").unlink()
    assert done.returncode != 0
    assert contents(root / "site") == new
    assert beside(root) == []
