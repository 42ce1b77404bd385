"""The figures' files: there, below the content folder, of a known type, and harmless."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from xml.parsers import expat

from briefgen.findings import Finding, Level
from briefgen.language.nearest import nearest
from briefgen.model.library import Library
from briefgen.model.sights import Figure

TYPES = (".svg", ".png", ".jpg", ".jpeg", ".webp", ".gif", ".avif")
_WITHIN = re.compile(r"\s*(#|data:image/)", re.IGNORECASE)
_CSS_OUTSIDE = re.compile(r"@import|url\((?!\s*['\"]?(?:#|data:image/))", re.IGNORECASE)
_FORBIDDEN = ("script", "foreignobject", "iframe", "embed", "object", "audio", "video")


def picture_findings(root: Path, library: Library) -> Iterator[Finding]:
    """What is wrong with the figures' files."""
    for figure in library.figures.values():
        finding = _check(root, figure)
        if finding:
            yield finding


def _check(root: Path, figure: Figure) -> Finding | None:
    name, spot = str(figure.file), figure.file.position
    path = root / name
    if Path(name).is_absolute() or "\\" in name or not _inside(root, path):
        return Finding(
            "figure-outside",
            Level.ERROR,
            spot,
            f"The picture “{name}” of figure “{figure.id}” lies outside "
            "the content folder. Put the file below the content folder and write its path from there.",
        )
    if not path.is_file():
        here = [found.relative_to(root).as_posix() for found in root.rglob("*") if found.suffix.lower() in TYPES]
        close = nearest(name, here)
        hint = f"Did you mean “{close}”?" if close else "Write its path from the content folder."
        return Finding(
            "figure-missing",
            Level.ERROR,
            spot,
            f"There is no file “{name}” for figure “{figure.id}”. {hint}",
            write=f"file: {close}" if close else "",
        )
    if path.suffix.lower() not in TYPES:
        return Finding(
            "figure-type",
            Level.ERROR,
            spot,
            f"“{name}” is no picture that every browser shows: use one of {', '.join(TYPES)}.",
        )
    danger = svg_danger(path.read_bytes()) if path.suffix.lower() == ".svg" else ""
    if danger:
        return Finding(
            "figure-unsafe",
            Level.ERROR,
            spot,
            f"The picture “{name}” of figure “{figure.id}” {danger}. Save it as a plain drawing.",
        )
    return None


def _inside(root: Path, path: Path) -> bool:
    return path.resolve().is_relative_to(root.resolve())


@lru_cache(maxsize=512)
def svg_danger(data: bytes) -> str:
    """What makes an SVG more than a drawing, in words that follow “the picture …”; nothing where it is harmless.

    Scripts, event handlers, anything loaded from elsewhere, and entity declarations (which can expand without
    bound) are refused.

    >>> svg_danger(b"<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0'/></svg>")
    ''
    >>> svg_danger(b"<svg><script>1</script></svg>")
    'holds a <script> element'
    """
    problems: list[str] = []
    parser = expat.ParserCreate()

    def start(tag: str, attributes: dict[str, str]) -> None:
        bare = tag.rpartition(":")[2].lower()
        if bare in _FORBIDDEN:
            problems.append(f"holds a <{bare}> element")
        for key, value in attributes.items():
            problems.extend(_attribute_problem(key.lower(), value))

    def text(words: str) -> None:
        if _CSS_OUTSIDE.search(words):
            problems.append("loads something from elsewhere in a style")

    parser.StartElementHandler = start
    parser.CharacterDataHandler = text
    parser.EntityDeclHandler = lambda *_: problems.append("declares an entity")
    parser.ProcessingInstructionHandler = lambda target, _: problems.append(f"holds an instruction “{target}”")
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        return f"is not well-formed XML at line {error.lineno}, column {error.offset + 1}"
    return problems[0] if problems else ""


def _attribute_problem(key: str, value: str) -> Iterator[str]:
    if key.startswith("on"):
        yield f"holds the event handler “{key}”"
    elif key.rpartition(":")[2] in ("href", "src") and not _WITHIN.match(value):
        yield f"points to “{value.strip()[:60]}”"
    elif _CSS_OUTSIDE.search(value):
        yield "loads something from elsewhere in a style"
