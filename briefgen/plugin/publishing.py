"""`mkdocs build`: a site is built beside the published one and takes its place when it is whole.

Whatever stops a build (an error, a full disk, a killed process), the site that was there stays as it was. Where the
system can exchange two folders in one go (Linux: renameat2(2) with RENAME_EXCHANGE), a reader finds the one or the
other at every moment; elsewhere two renames follow each other, and the next build mends what a kill between them left.
"""

from __future__ import annotations

import ctypes
import logging
import os
import shutil
from pathlib import Path

from mkdocs.exceptions import PluginError

_AT_FDCWD, _RENAME_EXCHANGE = -100, 2


class Publishing:
    """The way of one build from its waiting folder to the place of the site. Raises PluginError where it can't go."""

    def __init__(self, site_dir: str) -> None:
        self.site_dir = site_dir
        given = Path(site_dir)
        if given.is_symlink() and not given.exists():
            raise PluginError(f"The site can't be written: “{site_dir}” is a link that leads nowhere. Take it away.")
        self._place = Path(os.path.realpath(given))
        if self._place.exists() and not self._place.is_dir():
            raise PluginError(
                f"The site can't be written: “{site_dir}” is a file. Take it away, or name another folder."
            )
        self._before = self._place.with_name(f".{self._place.name}.before")
        self._waiting = self._place.with_name(f".{self._place.name}.waiting-{os.getpid()}")
        self._renamed = _Renamed(str(self._waiting), site_dir)

    def begin(self) -> str:
        """The folder to build into; what an earlier build left behind is put right first."""
        try:
            self._place.parent.mkdir(parents=True, exist_ok=True)
            if self._before.exists() and not self._place.exists():
                self._before.rename(self._place)
            self._tidy()
            self._waiting.mkdir()
            if self._place.exists() and not os.access(self._place, os.W_OK):
                raise PermissionError(13, "Permission denied")
        except OSError as error:
            self.give_up()
            raise PluginError(self.why(error)) from None
        logging.getLogger("mkdocs.commands.build").addFilter(self._renamed)
        return str(self._waiting)

    @property
    def beside(self) -> Path:
        """The folder in which the site lies: what is made for it fits there, or else the site does not."""
        return self._place.parent

    def finish(self) -> None:
        """Puts the built site in its place."""
        try:
            if not self._place.exists():
                self._waiting.rename(self._place)
            elif not _exchange(self._waiting, self._place):
                self._place.rename(self._before)
                self._waiting.rename(self._place)
        except OSError as error:
            raise PluginError(self.why(error)) from None
        finally:
            self.give_up()

    def give_up(self) -> None:
        """Takes away what is not published."""
        logging.getLogger("mkdocs.commands.build").removeFilter(self._renamed)
        shutil.rmtree(self._waiting, ignore_errors=True)
        if self._place.exists():
            shutil.rmtree(self._before, ignore_errors=True)

    def why(self, error: OSError) -> str:
        """What stopped a build, in a sentence."""
        reason = (error.strerror or str(error)).lower()
        return f"The site was not written: {reason}. What stood in “{self.site_dir}” is as it was."

    def _tidy(self) -> None:
        """Takes away the waiting folders of builds that no process goes on with."""
        for path in self._place.parent.glob(f".{self._place.name}.waiting-*"):
            number = path.name.rpartition("-")[2]
            if number.isdigit() and (int(number) == os.getpid() or not _runs(int(number))):
                shutil.rmtree(path, ignore_errors=True)


class _Renamed(logging.Filter):
    """MkDocs's own messages name the folder that a site is for, not the one in which it waits."""

    def __init__(self, waiting: str, site_dir: str) -> None:
        super().__init__()
        self._waiting, self._site_dir = waiting, site_dir

    def filter(self, record: logging.LogRecord) -> bool:
        record.msg = str(record.msg).replace(self._waiting, self._site_dir)
        return True


def _exchange(one: Path, other: Path) -> bool:
    """Exchanges two folders in one go; False where the system can't."""
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    return bool(call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0)


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
