"""What a WebM clip says of itself: EBML (RFC 8794) and Matroska (RFC 9559), the elements Info and Tracks.

Only what stands before the first picture is read, however long the film.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator, Mapping
from typing import BinaryIO

from briefgen.reading.figures.clip import Clip, NoClip, clip_of

_HEAD, _SEGMENT, _INFO, _TRACKS, _CLUSTER = 0x1A45DFA3, 0x18538067, 0x1549A966, 0x1654AE6B, 0x1F43B675
_DOC_TYPE, _SCALE, _DURATION = 0x4282, 0x2AD7B1, 0x4489
_TRACK, _VIDEO, _WIDTH, _HEIGHT = 0xAE, 0xE0, 0xB0, 0xBA
_LARGEST = 1_000_000
_MOST = 1_000
_UNKNOWN = -1


def read_elements(stream: BinaryIO, size: int) -> Clip:
    """A clip's length and size from its elements. Raises NoClip for what is no WebM file, and nothing besides."""
    found, start, end = _element(stream, 0, size)
    if found != _HEAD:
        raise NoClip("it does not begin as a WebM file does")
    kind = _inside(stream, start, end).get(_DOC_TYPE, b"").rstrip(b"\0")
    if kind != b"webm":
        raise NoClip(f"it says that it is “{kind[:20].decode('ascii', 'replace')}”, not “webm”")
    found, start, end = _element(stream, end, size)
    if found != _SEGMENT or end != size:
        raise NoClip("it is broken off, or something else stands in it")
    return _from_segment(stream, start, size)


def _from_segment(stream: BinaryIO, at: int, size: int) -> Clip:
    info: Mapping[int, bytes] = {}
    pictures: tuple[int, int] = (0, 0)
    for _ in range(_MOST):
        if at >= size:
            break
        found, start, end = _element(stream, at, size)
        if found == _INFO:
            info = _inside(stream, start, end)
        elif found == _TRACKS:
            pictures = _picture(_read(stream, start, end))
        elif found == _CLUSTER:
            break
        at = end
    scale = int.from_bytes(info.get(_SCALE, b"\x0f\x42\x40"), "big")  # nanoseconds; a million unless it is said
    return clip_of(_float(info.get(_DURATION, b"")) * scale / 1e9, *pictures)


def _picture(tracks: bytes) -> tuple[int, int]:
    for kind, inside in _elements(tracks):
        video = dict(_elements(inside)).get(_VIDEO) if kind == _TRACK else None
        if video is not None:
            sides = dict(_elements(video))
            width, height = (int.from_bytes(sides.get(one, b""), "big") for one in (_WIDTH, _HEIGHT))
            return width, height
    return 0, 0


def _float(data: bytes) -> float:
    """An EBML float of four or eight bytes; nought for anything else, and for what is no number."""
    if len(data) not in (4, 8):
        return 0.0
    (value,) = struct.unpack(">f" if len(data) == 4 else ">d", data)
    return float(value) if 0 < value < 1e18 else 0.0


def _element(stream: BinaryIO, at: int, size: int) -> tuple[int, int, int]:
    """An element's id, and where its inside begins and ends. One without a length goes to the end of the file."""
    stream.seek(at)
    found, start, length = _head(stream.read(12))
    end = size if length == _UNKNOWN else at + start + length
    if end > size:
        raise NoClip("it is broken off, or something else stands in it")
    return found, at + start, end


def _inside(stream: BinaryIO, start: int, end: int) -> Mapping[int, bytes]:
    return dict(_elements(_read(stream, start, end)))


def _read(stream: BinaryIO, start: int, end: int) -> bytes:
    if end - start > _LARGEST:
        raise NoClip("what it says of itself is larger than 1 MB")
    stream.seek(start)
    return stream.read(end - start)


def _elements(data: bytes) -> Iterator[tuple[int, bytes]]:
    at = 0
    while at < len(data):
        found, start, length = _head(data[at : at + 12])
        if length == _UNKNOWN or at + start + length > len(data):
            raise NoClip("what it says of itself is broken")
        yield found, data[at + start : at + start + length]
        at += start + length


def _head(data: bytes) -> tuple[int, int, int]:
    """An element's id, how many bytes id and length take, and the length, or `_UNKNOWN`: RFC 8794, sections 4 to 6."""
    wide = _width(data[:1], 4)
    found = int.from_bytes(data[:wide], "big")
    long = _width(data[wide : wide + 1], 8)
    coded = data[wide : wide + long]
    if len(coded) < long:
        raise NoClip("it is broken off")
    length = int.from_bytes(coded, "big") & ((1 << (7 * long)) - 1)
    return found, wide + long, _UNKNOWN if length == (1 << (7 * long)) - 1 else length


def _width(first: bytes, most: int) -> int:
    """How many bytes a coded number takes: one more than noughts before the first one."""
    width = 9 - first[0].bit_length() if first else 99
    if width > most:
        raise NoClip("it is broken off, or something else stands in it")
    return width
