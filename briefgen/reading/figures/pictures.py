"""The figures' files: there, below the content folder, of a known type, and nothing but what they should be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from briefgen.findings import Finding, Level, Related
from briefgen.language.nearest import nearest
from briefgen.model.figures import CLIPS, Figure
from briefgen.model.library import Library
from briefgen.reading.figures.clips import clip_findings
from briefgen.reading.figures.drawing import LARGEST, svg_danger
from briefgen.reading.files import Unreadable, bytes_of, inside, is_ordinary
from briefgen.source import Position

TYPES = (".svg", ".png", ".jpg", ".jpeg", ".webp", ".gif", ".avif")


@dataclass(frozen=True)
class _Named:
    """A file that a figure names, what it should be, and what its name may end with."""

    figure: Figure
    name: str
    position: Position
    noun: str
    types: tuple[str, ...]


def picture_findings(root: Path, library: Library) -> Iterator[Finding]:
    """What is wrong with the figures' files."""
    for figure in library.figures.values():
        found = [finding for named in _files_of(figure) if (finding := _check(root, named))]
        yield from found
        if figure.is_clip and not found:
            yield from clip_findings(root, figure)


def _files_of(figure: Figure) -> Iterator[_Named]:
    yield _Named(figure, str(figure.file), figure.file.position, *(("clip", CLIPS) if figure.is_clip else _PICTURE))
    if figure.poster:
        yield _Named(figure, str(figure.poster), figure.poster.position, "poster", TYPES)
    if figure.captions:
        yield _Named(figure, str(figure.captions), figure.captions.position, "file of captions", (".vtt",))


_PICTURE = ("picture", TYPES)


def _check(root: Path, named: _Named) -> Finding | None:
    name, figure = named.name, named.figure
    path = root / name
    try:
        if not _is_plain(name) or not inside(root, path):
            return _elsewhere(named)
        if not is_ordinary(path):
            return _missing(root, named)
        if path.suffix.lower() not in named.types:
            return _error("figure-type", named.position, f"“{name}” is no {named.noun} that every browser shows: use "
                          f"one of {', '.join(_allowed(named))}.")  # fmt: skip
        return _unsafe(named, bytes_of(path, LARGEST)) if path.suffix.lower() == ".svg" else None
    except Unreadable as reason:
        return _error("figure-missing", named.position,
                      f"The {named.noun} “{name}” of figure “{figure.id}” can't be read: {reason}.")  # fmt: skip


def _allowed(named: _Named) -> tuple[str, ...]:
    """What may stand there; where a picture may, a clip may, too."""
    return (*named.types, *CLIPS) if named.noun == "picture" else named.types


def _error(rule: str, spot: Position, sentence: str, write: str = "") -> Finding:
    return Finding(rule, Level.ERROR, spot, sentence, write=write)


def _is_plain(name: str) -> bool:
    """Whether a path says the same to everybody: the site takes a picture along under this very path."""
    parts = name.split("/")
    return "\\" not in name and not name.endswith(" ") and not {"", ".", ".."} & set(parts) and ":" not in parts[0]


def _elsewhere(named: _Named) -> Finding:
    return _error(
        "figure-outside",
        named.position,
        f"The {named.noun} “{named.name}” of figure “{named.figure.id}” lies outside the content folder, or its path "
        "is not plain. Put the file below the content folder and write its path from there, like “figures/pump.svg”, "
        "without “.”, “..” or “\\”.",
    )


def _missing(root: Path, named: _Named) -> Finding:
    name, types = named.name, named.types
    here = [found.relative_to(root).as_posix() for found in root.rglob("*") if found.suffix.lower() in types]
    close = nearest(name, (one for one in here if one != name))
    hint = f"Did you mean “{close}”?" if close else "Write its path from the content folder."
    whose = "figure" if named.noun in ("picture", "clip") else f"the {named.noun} of figure"
    sentence = f"There is no file “{name}” for {whose} “{named.figure.id}”. {hint}"
    key = {"poster": "poster", "file of captions": "captions"}.get(named.noun, "file")
    return _error("figure-missing", named.position, sentence, f"{key}: {close}" if close else "")


def _unsafe(named: _Named, data: bytes) -> Finding | None:
    danger = svg_danger(data)
    if danger is None:
        return None
    return Finding(
        "figure-unsafe",
        Level.ERROR,
        Position(named.name, danger.line, danger.column),
        f"The {named.noun} of figure “{named.figure.id}” {danger.words}. Save it as a plain drawing.",
        (Related(named.position, f"the figure “{named.figure.id}”"),),
    )
