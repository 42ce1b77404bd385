"""Widths and heights from the first bytes of picture files, against Pillow's or the format's own layout."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pytest

from briefgen.pages.html.pictures import _size_of


def png(width: int, height: int) -> bytes:
    """A PNG header as ISO/IEC 15948 lays it out (signature, IHDR)."""
    body = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + body + struct.pack(">I", zlib.crc32(body))


def jpeg(width: int, height: int) -> bytes:
    """A JPEG's first segments as ITU-T T.81 lays them out (SOI, APP0, SOF0)."""
    app0 = b"\xff\xe0" + struct.pack(">H", 16) + b"JFIF\0" + bytes(9)
    return b"\xff\xd8" + app0 + b"\xff\xc0" + struct.pack(">HBHH", 17, 8, height, width) + bytes(10)


@pytest.mark.parametrize(
    ("name", "data", "size"),
    [
        ("a.png", png(640, 480), (640, 480)),
        ("a.gif", b"GIF89a" + struct.pack("<HH", 120, 90) + bytes(20), (120, 90)),
        ("a.jpg", jpeg(800, 500), (800, 500)),
        ("a.svg", b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 960 600"/>', (960, 600)),
        ("b.svg", b'<svg width="30" height="20" viewBox="0 0 960 600"/>', (30, 20)),
        ("c.svg", b"<svg/>", (960, 600)),
    ],
)  # fmt: skip
def test_the_size_of_a_picture(tmp_path: Path, name: str, data: bytes, size: tuple[int, int]) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    found = _size_of(path)
    assert (found.width, found.height) == size
