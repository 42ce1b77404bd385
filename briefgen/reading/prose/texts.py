"""The author's own Markdown pages, as texts: what is said of them stands in the rules."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from briefgen.findings import Finding, Level
from briefgen.language.printable import control_in
from briefgen.reading.prose.files import files_below, refusal
from briefgen.reading.prose.head import head_findings
from briefgen.reading.prose.markup import markup_findings
from briefgen.reading.prose.size import size_findings
from briefgen.reading.text import text_of
from briefgen.source import Position


@dataclass(frozen=True)
class Prose:
    """The pages' texts by file, as findings call it: counted from the content folder. And what is wrong with them.

    `paths` says for each of these files where it lies below the folder of the pages. `beside` are the other files that
    go into the site, by that path.
    """

    texts: Mapping[str, str]
    findings: tuple[Finding, ...]
    paths: Mapping[str, str] = field(default_factory=dict)
    beside: frozenset[str] = frozenset()

    @property
    def sources(self) -> Mapping[str, tuple[str, ...]]:
        """Each file's lines."""
        return {file: tuple(text.splitlines()) for file, text in self.texts.items()}


NO_PROSE = Prose({}, ())


def read_prose(folder: Path, root: Path) -> Prose:
    """The files below the folder of the pages, hidden ones apart; `root` is the content folder."""
    texts: dict[str, str] = {}
    paths: dict[str, str] = {}
    beside: set[str] = set()
    findings: list[Finding] = []
    for path in files_below(folder):
        file = Path(os.path.relpath(path, root)).as_posix()
        below = path.relative_to(folder).as_posix()
        reason = refusal(folder, path)
        if reason:
            sentence = f"“{below}” does not go into the site. {reason}"
            findings.append(Finding("page-file", Level.WARNING, Position(file), sentence))
        elif path.suffix.lower() != ".md":
            beside.add(below)
        else:
            texts[file], paths[file] = "", below
            text, trouble = text_of(path, file)
            text = text.replace("\r\n", "\n").replace("\r", "\n")  # as the builder reads it
            wrong = [trouble] if trouble else [*size_findings(text, file)]
            if not wrong:
                texts[file] = text
                wrong = [*_controls(text, file), *head_findings(text, file), *markup_findings(text, file)]
            findings += wrong
    return Prose(texts, tuple(findings), paths, frozenset(beside))


def _controls(text: str, file: str) -> Iterator[Finding]:
    """The first character in each line that shows nothing."""
    for number, line in enumerate(text.splitlines(), 1):
        code = control_in(line)
        if code:
            sentence = f"A character that shows nothing ({code}) stands in this line: type the words anew."
            yield Finding("control-character", Level.ERROR, Position(file, number), sentence)
