"""The author's own Markdown pages, as texts: what is said of them stands in the rules."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from briefgen.findings import Finding, Level
from briefgen.language.printable import control_in
from briefgen.reading.text import text_of
from briefgen.source import Position


@dataclass(frozen=True)
class Prose:
    """The pages' texts by file, as findings call it: counted from the content folder. And what could not be read."""

    texts: Mapping[str, str]
    findings: tuple[Finding, ...]

    @property
    def sources(self) -> Mapping[str, tuple[str, ...]]:
        """Each file's lines."""
        return {file: tuple(text.splitlines()) for file, text in self.texts.items()}


NO_PROSE = Prose({}, ())


def read_prose(folder: Path, root: Path) -> Prose:
    """The Markdown files below a folder, hidden ones apart; `root` is the content folder."""
    texts: dict[str, str] = {}
    findings: list[Finding] = []
    for path in sorted(folder.rglob("*.md")):
        if any(part.startswith(".") for part in path.relative_to(folder).parts):
            continue  # MkDocs makes no page of it
        file = Path(os.path.relpath(path, root)).as_posix()
        text, trouble = text_of(path, file)
        findings += [trouble] if trouble else _controls(text, file)
        texts[file] = text
    return Prose(texts, tuple(findings))


def _controls(text: str, file: str) -> Iterator[Finding]:
    """The first character in each line that shows nothing."""
    for number, line in enumerate(text.splitlines(), 1):
        code = control_in(line)
        if code:
            sentence = f"A character that shows nothing ({code}) stands in this line: type the words anew."
            yield Finding("control-character", Level.ERROR, Position(file, number), sentence)
