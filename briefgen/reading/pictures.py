"""The figures' files: there, below the content folder, of a known type, and nothing but pictures."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from briefgen.findings import Finding, Level, Related
from briefgen.language.nearest import nearest
from briefgen.model.library import Library
from briefgen.model.sights import Figure
from briefgen.reading.drawing import LARGEST, svg_danger
from briefgen.reading.files import Unreadable, bytes_of, inside, is_ordinary
from briefgen.source import Position

TYPES = (".svg", ".png", ".jpg", ".jpeg", ".webp", ".gif", ".avif")


def picture_findings(root: Path, library: Library) -> Iterator[Finding]:
    """What is wrong with the figures' files."""
    for figure in library.figures.values():
        finding = _check(root, figure)
        if finding:
            yield finding


def _check(root: Path, figure: Figure) -> Finding | None:
    name, spot = str(figure.file), figure.file.position
    path = root / name
    try:
        if not _is_plain(name) or not inside(root, path):
            return _elsewhere(figure)
        if not is_ordinary(path):
            return _missing(root, figure)
        if path.suffix.lower() not in TYPES:
            return _error("figure-type", spot, f"“{name}” is no picture that every browser shows: use one of "
                          f"{', '.join(TYPES)}.")  # fmt: skip
        return _unsafe(figure, bytes_of(path, LARGEST)) if path.suffix.lower() == ".svg" else None
    except Unreadable as reason:
        return _error("figure-missing", spot, f"The picture “{name}” of figure “{figure.id}” can't be read: {reason}.")


def _error(rule: str, spot: Position, sentence: str, write: str = "") -> Finding:
    return Finding(rule, Level.ERROR, spot, sentence, write=write)


def _is_plain(name: str) -> bool:
    """Whether a path says the same to everybody: the site takes a picture along under this very path."""
    parts = name.split("/")
    return "\\" not in name and not name.endswith(" ") and not {"", ".", ".."} & set(parts) and ":" not in parts[0]


def _elsewhere(figure: Figure) -> Finding:
    return _error(
        "figure-outside",
        figure.file.position,
        f"The picture “{figure.file}” of figure “{figure.id}” lies outside the content folder, or its path is not "
        "plain. Put the file below the content folder and write its path from there, like “figures/pump.svg”, without "
        "“.”, “..” or “\\”.",
    )


def _missing(root: Path, figure: Figure) -> Finding:
    name = str(figure.file)
    here = [found.relative_to(root).as_posix() for found in root.rglob("*") if found.suffix.lower() in TYPES]
    close = nearest(name, (one for one in here if one != name))
    hint = f"Did you mean “{close}”?" if close else "Write its path from the content folder."
    sentence = f"There is no file “{name}” for figure “{figure.id}”. {hint}"
    return _error("figure-missing", figure.file.position, sentence, f"file: {close}" if close else "")


def _unsafe(figure: Figure, data: bytes) -> Finding | None:
    danger = svg_danger(data)
    if danger is None:
        return None
    return Finding(
        "figure-unsafe",
        Level.ERROR,
        Position(str(figure.file), danger.line, danger.column),
        f"The picture of figure “{figure.id}” {danger.words}. Save it as a plain drawing.",
        (Related(figure.file.position, f"the figure “{figure.id}”"),),
    )
