"""A folder beside the site in which the new one is made, and the exchange of the two.

A build that fails, is killed or runs out of space leaves the site as it was. Two builds at once have a folder each; the
one that ends last stays. The exchange is two renamings; a build that is killed between them is mended by the next one.
"""

import contextlib
import errno
import re
import secrets
import shutil
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from notchbook.building.locks import FileLock, Tell, held, nowhere
from notchbook.site_reading.site_places import UNFINISHED

_MOUNTED = (errno.EBUSY, errno.EXDEV)
"""What the system says of a folder that something is mounted on."""
_PAUSES_S = (0.1, 0.2, 0.4, 0.8, 1.6, 3.2)
"""How long to wait for a program that holds a file, such as the client of a synchronised folder or a virus scanner."""


class StagingError(Exception):
    """The site cannot be written where it should be; the text says why and what to do."""


class Staging:
    """One build's folder, and the site whose place it is to take."""

    def __init__(self, site: Path, tell: Tell = nowhere) -> None:
        """Make the folder, after mending what builds that were cut short left behind.

        The site is the folder of the finished one, there or not; what keeps a build waiting is told. Raises
        StagingError where none can be made beside it.
        """
        said: set[str] = set()

        def once(line: str) -> None:
            if line not in said:
                said.add(line)
                tell(line)

        self._tell: Tell = once
        # of a link, the folder that it leads to is the site
        self.site = site = site.resolve()
        self.folder = site.parent / f".{site.name}.building-{secrets.token_hex(4)}"
        self._lock = FileLock(self._lock_of(self.folder), self._tell)
        self.mended: list[str] = []
        """What was found of builds that were cut short, in words for the log."""
        with _told(f"the site cannot be made in '{site.parent}'"):
            site.parent.mkdir(parents=True, exist_ok=True)
            with held(self._exchange_lock, self._tell):
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
        with told, held(self._exchange_lock, self._tell):
            self._exchange()
        self._lock.give_back()

    def abandon(self) -> None:
        """Delete the folder; the site is as it was."""
        shutil.rmtree(self.folder, ignore_errors=True)
        self._lock.give_back()

    def _exchange(self) -> None:
        if not self.site.exists():
            self._take_place()
            return
        # hidden files, such as those of a version control, are not the site's
        for each in sorted(each for each in self.site.iterdir() if each.name.startswith(".")):
            if each.is_dir() and not each.is_symlink():
                shutil.copytree(each, self.folder / each.name, symlinks=True, dirs_exist_ok=True)
            else:
                shutil.copy2(each, self.folder / each.name, follow_symlinks=False)
        earlier = self.site.parent / f".{self.site.name}.earlier-{secrets.token_hex(4)}"
        try:
            _patiently(lambda: self.site.rename(earlier))
        except OSError as error:
            if error.errno not in _MOUNTED and not isinstance(error, PermissionError):
                raise
            self._copy()
            return
        try:
            self._take_place()
        except (OSError, StagingError):
            shutil.rmtree(self.site, ignore_errors=True)
            _patiently(lambda: earlier.rename(self.site))
            raise
        shutil.rmtree(earlier, ignore_errors=True)

    def _take_place(self) -> None:
        """Rename the folder to the site, which is not there; a folder that somebody holds is copied."""
        try:
            _patiently(lambda: self.folder.rename(self.site))
        except PermissionError:
            self._copy()

    def _copy(self) -> None:
        try:
            _copy_into_place(self.folder, self.site)
        except OSError as error:
            reason = error.strerror or str(error)
            message = f"the new site is in '{self.site}' in part only: {reason} ('{error.filename}'); build again"
            raise StagingError(message) from error
        shutil.rmtree(self.folder, ignore_errors=True)

    def _mend(self) -> None:
        """Put an earlier site back that was moved away and not replaced, and delete what no build holds any more."""
        for earlier in self._beside("earlier"):
            if not self.site.exists():
                _patiently(partial(earlier.rename, self.site))
                self.mended.append("an earlier build was cut short at its end; the site before it is back")
            else:
                shutil.rmtree(earlier, ignore_errors=True)
        if (self.site / UNFINISHED).exists():
            self.mended.append("an earlier build was cut short at its end; the site is not whole until this one ends")
        for folder in self._beside("building"):
            if folder.name.endswith("-lock"):
                _remove_stale_lock(folder)
                continue
            lock = FileLock(self._lock_of(folder), self._tell)
            if lock.take(wait=False):
                # where there are no locks, nobody can say whether somebody is building in it
                if lock.is_real:
                    shutil.rmtree(folder, ignore_errors=True)
                    self.mended.append("an earlier build was cut short; what it left is deleted, the site is as it was")
                lock.give_back()


def _copy_into_place(folder: Path, site: Path) -> None:
    """Make the site what the folder holds, file by file where the folder itself cannot be exchanged.

    Hidden files stay. A process that is killed meanwhile leaves a mark, which the next build speaks of.
    """
    site.mkdir(exist_ok=True)
    mark = site / UNFINISHED
    mark.touch()
    wanted = {each.relative_to(folder) for each in folder.rglob("*")}
    for each in sorted(wanted):
        source, target = folder / each, site / each
        if source.is_dir():
            if target.is_symlink() or target.is_file():
                _patiently(target.unlink)
            target.mkdir(exist_ok=True)
        else:
            if target.is_dir() and not target.is_symlink():
                _patiently(partial(shutil.rmtree, target))
            _patiently(partial(shutil.copyfile, source, target))
    for each in sorted(site.rglob("*"), reverse=True):
        relative = each.relative_to(site)
        if relative in wanted or relative.parts[0].startswith("."):
            continue
        _patiently(each.rmdir if each.is_dir() and not each.is_symlink() else each.unlink)
    _patiently(mark.unlink)


def _patiently(act: Callable[[], object]) -> None:
    """Do what is refused for as long as another program holds a file, and raise what is refused after that too."""
    for pause_s in _PAUSES_S:
        try:
            act()
        except PermissionError:
            time.sleep(pause_s)
        else:
            return
    act()


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
