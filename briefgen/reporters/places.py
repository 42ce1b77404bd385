"""Where a finding's file is, seen from where the check was run: what services that show findings beside files need."""

from __future__ import annotations

from pathlib import Path, PurePosixPath
from urllib.parse import quote

from briefgen.source import Position


def prefix_of(folder: Path, here: Path) -> str:
    """The content folder as seen from `here`, with forward slashes; the folder itself where it lies elsewhere.

    >>> prefix_of(Path("/home/x/plan/content"), Path("/home/x/plan"))
    'content'
    """
    resolved, root = folder.resolve(), here.resolve()
    inside = resolved.relative_to(root) if resolved.is_relative_to(root) else resolved
    return "" if inside == Path() else inside.as_posix()


def path_of(position: Position, prefix: str) -> str:
    """The path of a position's file from where the check was run.

    >>> path_of(Position("tasks/a.yaml", 3, 1), "content")
    'content/tasks/a.yaml'
    """
    return (PurePosixPath(prefix) / position.file).as_posix() if position.file else prefix


def uri_of(position: Position, prefix: str) -> str:
    """The same as a relative reference (RFC 3986)."""
    return quote(path_of(position, prefix))
