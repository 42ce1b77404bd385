"""What a clip of the ISO base media file format says of itself: ISO/IEC 14496-12, boxes ftyp, moov, mvhd, tkhd, mehd.

Only heads of boxes and the index (`moov`) are read, however long the film. Numbers are big-endian.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import BinaryIO

from briefgen.reading.figures.clip import Clip, NoClip, clip_of

MOST = 20_000
_LARGEST_INDEX = 4_000_000
_DEEPEST = 6
_WITHIN = frozenset({b"moov", b"trak", b"mvex"})


def read_boxes(stream: BinaryIO, size: int) -> Clip:
    """A clip's length and size from its boxes. Raises NoClip for what is no such file, whole and nothing besides."""
    index = b""
    for number, (kind, start, end) in enumerate(_outermost(stream, size)):
        if number == 0 and kind != b"ftyp":
            raise NoClip("it does not begin as an MP4 file does")
        if kind == b"moov":
            if end - start > _LARGEST_INDEX:
                raise NoClip("its index is larger than 4 MB")
            stream.seek(start)
            index = stream.read(end - start)
    if not index:
        raise NoClip("it has no index of what is in it")
    return _from_index(index)


def _outermost(stream: BinaryIO, size: int) -> Iterator[tuple[bytes, int, int]]:
    """Each box's kind, and where its inside begins and ends. The boxes fill the file to its last byte."""
    at = number = 0
    while at < size:
        stream.seek(at)
        kind, head, length = _head(stream.read(16), size - at)
        number += 1
        if length < head or at + length > size or number > MOST or not kind.isascii() or not kind.strip().isalnum():
            raise NoClip("it is broken off, or something else stands in it")
        yield kind, at + head, at + length
        at += length


def _head(data: bytes, rest: int) -> tuple[bytes, int, int]:
    """A box's kind, the length of its head and of the whole; `rest` is what a box without a length takes."""
    length, kind = int.from_bytes(data[:4], "big"), data[4:8]
    if length == 1 and len(data) == 16:
        return kind, 16, int.from_bytes(data[8:16], "big")
    return kind, 8, rest if length == 0 else length


def _inner(data: bytes, depth: int = 0) -> Iterator[tuple[bytes, bytes]]:
    """Every box within an index, those within its boxes, too."""
    at = 0
    while at + 8 <= len(data):
        kind, head, length = _head(data[at : at + 16], len(data) - at)
        if length < head or at + length > len(data):
            raise NoClip("its index is broken")
        inside = data[at + head : at + length]
        yield kind, inside
        if kind in _WITHIN and depth < _DEEPEST:
            yield from _inner(inside, depth + 1)
        at += length


def _from_index(index: bytes) -> Clip:
    scale = length = fragments = 0
    sizes: list[tuple[int, int]] = []
    for kind, inside in _inner(index):
        wide = inside[:1] == b"\x01"
        if kind == b"mvhd":
            scale, length = _number(inside, 20 if wide else 12, 4), _number(inside, *((24, 8) if wide else (16, 4)))
        elif kind == b"mehd":
            fragments = _number(inside, 4, 8 if wide else 4)
        elif kind == b"tkhd":  # the last eight bytes are width and height, 16 bits before the point and 16 after
            sizes.append((_number(inside, len(inside) - 8, 4) >> 16, _number(inside, len(inside) - 4, 4) >> 16))
    width, height = next((one for one in sizes if all(one)), (0, 0))
    # All bits set stands for a length that nobody knows.
    known = (length or fragments) if length not in (2**32 - 1, 2**64 - 1) else 0
    return clip_of(known / scale if scale else 0.0, width, height)


def _number(data: bytes, at: int, length: int) -> int:
    return int.from_bytes(data[max(0, at) : max(0, at) + length], "big")
