"""Which of the files beside the author's pages go into the site: what a page shows, and nothing that runs by itself."""

from __future__ import annotations

import os
from pathlib import Path

from briefgen.model.figures import CLIPS
from briefgen.reading.figures.drawing import LARGEST, svg_danger
from briefgen.reading.figures.pictures import TYPES
from briefgen.reading.files import Unreadable, bytes_of, inside, is_ordinary

# A script or a style sheet does nothing until mkdocs.yml names it, and no page of an author's can.
_OTHERS = (".vtt", ".css", ".js", ".txt", ".csv", ".json", ".yaml", ".yml", ".woff2")
_WELCOME = frozenset({*TYPES, *CLIPS, *_OTHERS})


def files_below(folder: Path) -> list[Path]:
    """Every file below a folder, hidden ones and what lies in hidden folders apart, in order.

    Links to folders are listed, not followed: what lies there is not the project's.
    """
    found = []
    for where, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        links = [name for name in folders if Path(where, name).is_symlink()]
        found += [Path(where, name) for name in [*names, *links] if not name.startswith(".")]
    return sorted(found)


def refusal(folder: Path, path: Path) -> str:
    """Why a file in the folder of the pages does not go into the site, as a sentence about “it”; else nothing."""
    try:
        if not inside(folder, path) or path.is_dir():
            return "It is a link to another place: put the file itself there."
        kind = path.suffix.lower()
        if kind == ".md":
            return ""  # whoever reads it says what is wrong with it
        if not is_ordinary(path):
            return "It is no ordinary file."
        if kind not in _WELCOME:
            return f"It is none of the files that a page shows: {', '.join(sorted(_WELCOME))}."
        danger = svg_danger(bytes_of(path, LARGEST)) if kind == ".svg" else None
    except Unreadable as reason:
        return f"It can't be read: {reason}."
    return f"Save it as a plain drawing: in line {danger.line} it {danger.words}." if danger else ""
