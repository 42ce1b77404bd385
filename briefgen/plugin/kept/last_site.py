"""The site of the last build, in one entry: every file, what each page follows from, and what was said."""

from __future__ import annotations

import logging
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path, PurePosixPath
from typing import Any

from briefgen.cache.entries import KeptEntry, keep, recall
from briefgen.cache.folder import Folder

Said = tuple[str, int, str]
"""What was logged: the logger's name, the level, the words."""


class LastSite:
    """What is known of the last site of a project; nothing where there was none, or it is not whole."""

    def __init__(self, folder: Folder, project: str) -> None:
        self._folder, self._name = folder, f"site-{project[:32]}"
        self._entry: KeptEntry | None = recall(folder, self._name)
        self._files: list[tuple[str, int, int]] = []
        self._pages: dict[str, tuple[int, int]] = {}
        self._said: list[Said] = []
        self.whole = ""
        with suppress(ValueError, TypeError, KeyError):
            self._read(self._entry.table if self._entry else {"whole": "", "said": (), "files": ()})

    def _read(self, table: Mapping[str, Any]) -> None:
        for path, begin, length, key in table["files"]:
            if PurePosixPath(path).is_absolute() or ".." in PurePosixPath(path).parts:
                raise ValueError(path)
            self._files.append((path, begin, length))
            if key:
                self._pages[key] = (begin, length)
        self._said = [(name, level, words) for name, level, words in table["said"]]
        self.whole = str(table["whole"])

    def page(self, key: str) -> str | None:
        """The finished page that follows from this."""
        if self._entry is None or key not in self._pages:
            return None
        try:
            return self._entry.piece(*self._pages[key]).decode("utf-8")
        except (OSError, ValueError):
            return None

    def put_into(self, folder: Path) -> None:
        """Writes every file into a folder. Raises OSError, and ValueError where the entry was cut short meanwhile."""
        assert self._entry is not None
        made = set[Path]()
        for path, begin, length in self._files:
            place = folder / path
            if place.parent not in made:
                place.parent.mkdir(parents=True, exist_ok=True)
                made.add(place.parent)
            place.write_bytes(self._entry.piece(begin, length))

    def say_again(self) -> None:
        """Logs what was logged when the site was built."""
        for name, level, words in self._said:
            logging.getLogger(name).log(level, "%s", words)

    def keep(self, site: Path, whole: str, pages: Mapping[str, str], said: list[Said]) -> None:
        """Keeps a built site instead; `pages` says by each page's path what it follows from. Raises OSError."""
        files, begin = [], 0
        paths = sorted(path for path in site.rglob("*") if path.is_file())
        for path in paths:
            name, length = path.relative_to(site).as_posix(), path.stat().st_size
            files.append((name, begin, length, pages.get(name, "")))
            begin += length
        table = {"whole": whole, "said": said, "files": files}
        keep(self._folder, self._name, table, (path.read_bytes() for path in paths))

    def close(self) -> None:
        """It is not read any more."""
        if self._entry is not None:
            with suppress(OSError):
                self._entry.close()


class Heard(logging.Handler):
    """Hears what is said while a site is built, but for what MkDocs says at every build anyway."""

    def __init__(self) -> None:
        super().__init__(logging.INFO)
        self.said: list[Said] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Called by the logger."""
        words = record.getMessage()
        if not words.startswith(("Cleaning site directory", "Building documentation to directory")):
            self.said.append((record.name, record.levelno, words))

    def begin(self) -> None:
        """From now on."""
        logging.getLogger("mkdocs").addHandler(self)

    def end(self) -> None:
        """No more."""
        logging.getLogger("mkdocs").removeHandler(self)
