"""The figures' files: which are copied, and how large they are, so that a page keeps their place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from briefgen.model.figures import CLIPS
from briefgen.model.library import Library
from briefgen.reading.figures.clip import Clip, NoClip
from briefgen.reading.figures.clips import read_clip
from briefgen.reading.figures.drawing import svg_size
from briefgen.reading.files import Unreadable

_USUAL = (960, 600)
_WIDEST = 100_000  # what says that it is wider is no picture to lay a page out by


@dataclass(frozen=True)
class Size:
    """Width and height in pixels, or in the units of a drawing."""

    width: int
    height: int


class Pictures:
    """The picture files of a library below the content folder."""

    def __init__(self, root: Path, library: Library) -> None:
        self._root = root
        self.files: Mapping[str, Path] = {
            name: root / name for figure in library.figures.values() for name in figure.files
        }
        self._sizes: dict[str, Size] = {}

    def size(self, file: str) -> Size:
        """How large a picture is; the usual size where its file does not say."""
        if file not in self._sizes:
            self._sizes[file] = _size_of(self.files[file])
        return self._sizes[file]


def clip_at(path: Path) -> Clip | None:
    """What a clip's file says of itself; None where it is none."""
    try:
        return read_clip(path)
    except (NoClip, Unreadable):
        return None


def _size_of(path: Path) -> Size:
    if path.suffix.lower() in CLIPS:
        clip = clip_at(path)
        return Size(clip.width, clip.height) if clip else Size(*_USUAL)
    with path.open("rb") as stream:
        head = stream.read(65536)
    width, height = _dimensions(head) or _USUAL
    return Size(max(1, width), max(1, height)) if max(width, height) <= _WIDEST else Size(*_USUAL)


def _dimensions(head: bytes) -> tuple[int, int] | None:
    """Width and height from a file's first bytes: SVG 2 (viewBox), PNG (ISO/IEC 15948), GIF 89a, JPEG (ITU-T T.81)."""
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")
    if head.startswith((b"GIF87a", b"GIF89a")):
        return int.from_bytes(head[6:8], "little"), int.from_bytes(head[8:10], "little")
    if head.startswith(b"\xff\xd8"):
        return _jpeg(head)
    size = svg_size(head)
    return (round(size[0]), round(size[1])) if size else None


def _jpeg(head: bytes) -> tuple[int, int] | None:
    at = 2
    while at + 9 < len(head) and head[at] == 0xFF:
        marker, length = head[at + 1], int.from_bytes(head[at + 2 : at + 4], "big")
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            return int.from_bytes(head[at + 7 : at + 9], "big"), int.from_bytes(head[at + 5 : at + 7], "big")
        at += 2 + length
    return None
