"""Small clips for tests and for the demo, written from scratch: a WebM and an MP4 file around given pictures.

Own muxers after RFC 8794 and RFC 9559 (EBML, Matroska) and ISO/IEC 14496-12; the files under test are thus not written
by what reads them.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence

CAPTIONS = "WEBVTT\n\n00:00.000 --> 00:01.000\nIt drops.\n"


def element(identifier: int, inside: bytes) -> bytes:
    """An EBML element, its length in eight bytes."""
    name = identifier.to_bytes((identifier.bit_length() + 7) // 8, "big")
    return name + (1 << 56 | len(inside)).to_bytes(8, "big") + inside


def number(identifier: int, value: int) -> bytes:
    return element(identifier, value.to_bytes(max(1, (value.bit_length() + 7) // 8), "big"))


def webm(
    pictures: Sequence[tuple[int, bool, bytes]] = ((0, True, b"\0"),), *, seconds: float | None = 2.0, width: int = 64,
    height: int = 48, kind: bytes = b"webm", codec: bytes = b"V_VP8",
) -> bytes:  # fmt: skip
    """A WebM file; a picture is its time in ms, whether it stands by itself, and its bytes."""
    head = element(0x1A45DFA3, number(0x4286, 1) + number(0x42F7, 1) + number(0x42F2, 4) + number(0x42F3, 8)
                   + element(0x4282, kind) + number(0x4287, 4) + number(0x4285, 2))  # fmt: skip
    length = b"" if seconds is None else element(0x4489, struct.pack(">d", 1000 * seconds))
    info = element(
        0x1549A966,
        number(0x2AD7B1, 1_000_000) + length + b"".join(element(one, b"briefgen") for one in (0x4D80, 0x5741)),
    )
    video = element(0xE0, number(0xB0, width) + number(0xBA, height))
    track = number(0xD7, 1) + number(0x73C5, 1) + number(0x83, 1) + number(0x9C, 0) + element(0x86, codec) + video
    tracks = element(0x1654AE6B, element(0xAE, track))
    body, cues, cluster, begun = info + tracks, b"", b"", 0
    at = len(body) + len(_cues([0] * sum(key for _, key, _ in pictures), [0] * len(pictures)))
    clusters: list[bytes] = []
    starts: list[int] = []
    for moment, key, data in pictures:
        if key:
            if cluster:
                clusters.append(element(0x1F43B675, cluster))
            starts.append(moment)
            begun, cluster = moment, number(0xE7, moment)
        cluster += element(0xA3, b"\x81" + struct.pack(">h", moment - begun) + (b"\x80" if key else b"\x00") + data)
    clusters.append(element(0x1F43B675, cluster))
    places = [at + sum(map(len, clusters[:place])) for place in range(len(clusters))]
    cues = _cues(places, starts)
    return head + element(0x18538067, body + cues + b"".join(clusters))


def _cues(places: Sequence[int], starts: Sequence[int]) -> bytes:
    """Where each cluster begins, so that a player can go to it; all its numbers have eight bytes."""
    points = b"".join(
        element(0xBB, element(0xB3, start.to_bytes(8, "big"))
                + element(0xB7, number(0xF7, 1) + element(0xF1, place.to_bytes(8, "big"))))
        for place, start in zip(places, starts, strict=False)
    )  # fmt: skip
    return element(0x1C53BB6B, points)


def box(kind: bytes, inside: bytes) -> bytes:
    return (len(inside) + 8).to_bytes(4, "big") + kind + inside


def mp4(*, seconds: float = 2.0, width: int = 64, height: int = 48, last: bool = False) -> bytes:
    """An MP4 file's outside: an index of one track without a picture in it. `last`: the index comes last."""
    mvhd = box(b"mvhd", bytes(12) + struct.pack(">II", 1000, round(1000 * seconds)) + bytes(80))
    tkhd = box(b"tkhd", bytes(76) + struct.pack(">II", width << 16, height << 16))
    index, data = box(b"moov", mvhd + box(b"trak", tkhd)), box(b"mdat", bytes(40))
    return box(b"ftyp", b"isom\0\0\2\0isommp42") + (data + index if last else index + data)
