"""A folder beside the site in which the new one is made, and the exchange of the two.

A build that fails, is killed or runs out of space leaves the site as it was. Two builds at once have a folder each; the
one that ends last stays. The exchange is two renamings; a build that is killed between them is mended by the next one.
"""

import contextlib
import errno
import re
import secrets
import shutil
from collections.abc import Iterator
from pathlib import Path

from notchbook.building.locks import FileLock, held
from notchbook.site_reading.site_places import UNFINISHED

_MOUNTED = (errno.EBUSY, errno.EXDEV)
"""What the system says of a folder that something is mounted on."""


class StagingError(Exception):
    """The site cannot be written where it should be; the text says why and what to do."""


class Staging:
    """One build's folder, and the site whose place it is to take."""

    def __init__(self, site: Path) -> None:
        """Make the folder, after mending what builds that were cut short left behind.

        The site is the folder of the finished one, there or not. Raises StagingError where none can be made beside it.
        """
        # of a link, the folder that it leads to is the site
        self.site = site = site.resolve()
        self.folder = site.parent / f".{site.name}.building-{secrets.token_hex(4)}"
        self._lock = FileLock(self._lock_of(self.folder))
        self.mended: list[str] = []
        """What was found of builds that were cut short, in words for the log."""
        with _told(f"the site cannot be made in '{site.parent}'"):
            site.parent.mkdir(parents=True, exist_ok=True)
            with held(self._exchange_lock):
                self._mend()
            self._lock.take(wait=True)
            self.folder.mkdir()

    @property
    def _exchange_lock(self) -> Path:
        return self.site.parent / f".{self.site.name}.exchange-lock"

    def _beside(self, what: str) -> list[Path]:
        """Files and folders that builds made beside the site; a name that only begins like theirs is somebody's own."""
        form = re.compile(re.escape(f".{self.site.name}.{what}-") + r"[0-9a-f]{8}(-lock)?\Z")
        return sorted(each for each in self.site.parent.iterdir() if form.match(each.name) and not each.is_symlink())

    @staticmethod
    def _lock_of(folder: Path) -> Path:
        return folder.with_name(f"{folder.name}-lock")

    def publish(self) -> None:
        """Let the folder take the place of the site; raises StagingError where it cannot, and the site is as it was."""
        told = _told(f"the new site cannot take the place of '{self.site}', which is as it was")
        with told, held(self._exchange_lock):
            self._exchange()
        self._lock.give_back()

    def abandon(self) -> None:
        """Delete the folder; the site is as it was."""
        shutil.rmtree(self.folder, ignore_errors=True)
        self._lock.give_back()

    def _exchange(self) -> None:
        if not self.site.exists():
            self.folder.rename(self.site)
            return
        # hidden files, such as those of a version control, are not the site's
        for each in sorted(each for each in self.site.iterdir() if each.name.startswith(".")):
            if each.is_dir() and not each.is_symlink():
                shutil.copytree(each, self.folder / each.name, symlinks=True, dirs_exist_ok=True)
            else:
                shutil.copy2(each, self.folder / each.name, follow_symlinks=False)
        earlier = self.site.parent / f".{self.site.name}.earlier-{secrets.token_hex(4)}"
        try:
            self.site.rename(earlier)
        except OSError as error:
            if error.errno not in _MOUNTED:
                raise
            _copy_into_place(self.folder, self.site)
            shutil.rmtree(self.folder, ignore_errors=True)
            return
        try:
            self.folder.rename(self.site)
        except OSError:
            earlier.rename(self.site)
            raise
        shutil.rmtree(earlier, ignore_errors=True)

    def _mend(self) -> None:
        """Put an earlier site back that was moved away and not replaced, and delete what no build holds any more."""
        for earlier in self._beside("earlier"):
            if not self.site.exists():
                earlier.rename(self.site)
                self.mended.append("an earlier build was cut short at its end; the site before it is back")
            else:
                shutil.rmtree(earlier, ignore_errors=True)
        if (self.site / UNFINISHED).exists():
            self.mended.append("an earlier build was cut short at its end; the site is not whole until this one ends")
        for folder in self._beside("building"):
            if folder.name.endswith("-lock"):
                _remove_stale_lock(folder)
                continue
            lock = FileLock(self._lock_of(folder))
            if lock.take(wait=False):
                shutil.rmtree(folder, ignore_errors=True)
                lock.give_back()
                self.mended.append("an earlier build was cut short; what it left is deleted, the site is as it was")


def _copy_into_place(folder: Path, site: Path) -> None:
    """Make the site what the folder holds, file by file where the folder itself cannot be exchanged.

    Hidden files stay. A process that is killed meanwhile leaves a mark, which the next build speaks of.
    """
    mark = site / UNFINISHED
    mark.touch()
    wanted = {each.relative_to(folder) for each in folder.rglob("*")}
    for each in sorted(wanted):
        source, target = folder / each, site / each
        if source.is_dir():
            if target.is_symlink() or target.is_file():
                target.unlink()
            target.mkdir(exist_ok=True)
        else:
            if target.is_dir() and not target.is_symlink():
                shutil.rmtree(target)
            shutil.copyfile(source, target)
    for each in sorted(site.rglob("*"), reverse=True):
        relative = each.relative_to(site)
        if relative in wanted or relative.parts[0].startswith("."):
            continue
        if each.is_dir() and not each.is_symlink():
            each.rmdir()
        else:
            each.unlink()
    mark.unlink()


def _remove_stale_lock(path: Path) -> None:
    """Delete the lock of a folder that is not there, unless a build that is about to make it holds it."""
    if path.with_name(path.name.removesuffix("-lock")).exists():
        return
    lock = FileLock(path)
    if lock.take(wait=False):
        lock.give_back()


@contextlib.contextmanager
def _told(what: str) -> Iterator[None]:
    """Say what an error of the file system means for the site."""
    try:
        yield
    except OSError as error:
        reason = error.strerror or str(error)
        raise StagingError(f"{what}: {reason}; free the place or name another") from error
