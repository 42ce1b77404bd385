"""Captions: cues as an independent reader of WebVTT finds them, and every flaw where it stands."""

from __future__ import annotations

import pytest
import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.reading.figures.captions import read_captions
from tests.demo import CONTENT

SEVERAL = """WEBVTT - with a title

NOTE This is passed over,
in two lines.

1
00:00.000 --> 00:02.000
One line.

00:02.000 --> 00:04.250 align:start position:10%
Two lines,
of one cue.

01:00:00.000 --> 01:00:01.000
An hour later, 5 &lt; 6 &amp; more.
"""


def seconds(stamp: str) -> float:
    """`01:00:02.500` in seconds."""
    hours, minutes, rest = stamp.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(rest)


@pytest.mark.parametrize("text", [SEVERAL, (CONTENT / "figures" / "parting.vtt").read_text("utf-8"),
                                  SEVERAL.replace("\n", "\r\n"), "\ufeff" + SEVERAL])  # fmt: skip
def test_cues_are_those_that_another_reader_finds(text: str) -> None:
    found = read_captions(text)
    assert found.flaws == ()
    others = list(webvtt.from_string(text.removeprefix("\ufeff").replace("\r\n", "\n")))
    assert [(cue.start, cue.end, cue.text) for cue in found.cues] == [
        (seconds(one.start), seconds(one.end), one.text.replace("&lt;", "<").replace("&amp;", "&")) for one in others
    ]


WORDS = st.text(st.characters(categories=["L", "N"], include_characters=" ,.;:!?'\"()"), min_size=1, max_size=60)


@settings(deadline=None)
@given(st.lists(st.tuples(st.integers(0, 3_000_000), st.integers(1, 60_000), WORDS), min_size=1, max_size=8))
def test_whatever_cues_are_written_are_read(cues: list[tuple[int, int, str]]) -> None:
    rows = sorted((start, start + length, words.strip() or "x") for start, length, words in cues)
    text = "WEBVTT\n\n" + "\n".join(f"{stamp(start)} --> {stamp(end)}\n{words}\n" for start, end, words in rows)
    found = read_captions(text)
    assert found.flaws == ()
    assert [(round(1000 * cue.start), round(1000 * cue.end), cue.text) for cue in found.cues] == rows


def stamp(thousandths: int) -> str:
    whole, rest = divmod(thousandths, 1000)
    return f"{whole // 3600:02d}:{whole % 3600 // 60:02d}:{whole % 60:02d}.{rest:03d}"


def test_who_speaks_stands_before_the_words_and_tags_are_gone() -> None:
    (cue,) = read_captions("WEBVTT\n\n00:01.000 --> 00:02.000\n<v.loud Heron>The <i>green</i> ring.").cues
    assert cue.text == "Heron: The green ring."


HEAD = "WEBVTT\n\n"
TIME = "00:01.000 --> 00:02.000"


@pytest.mark.parametrize(
    ("text", "words", "line", "column"),
    [
        ("", "first line", 1, 1),
        ("<!DOCTYPE html>", "first line", 1, 1),
        ("WEBVTTX\n", "first line", 1, 1),
        ("WEBVTT", "nothing is said", 1, 1),
        (f"WEBVTT\n{TIME}\nx", "empty line", 2, 1),
        (f"{HEAD}00:01 --> 00:02\nx", "a time is expected", 3, 1),
        (f"{HEAD}00:01.000-->00:02.000\nx", "a time is expected", 3, 1),
        (f"{HEAD}00:61.000 --> 00:62.000\nx", "a time is expected", 3, 1),
        (f"{HEAD}a title\nno time\nx", "a time is expected", 4, 1),
        (f"{HEAD}a title alone", "a time is expected", 3, 1),
        (f"{HEAD}00:02.000 --> 00:02.000\nx", "ends before it begins", 3, 15),
        (f"{HEAD}{TIME}\nx\n\n00:00.000 --> 00:03.000\ny", "begins before the one above", 6, 1),
        (f"{HEAD}{TIME}\n", "no words", 3, 1),
        (f"{HEAD}{TIME} blink:yes\nx", "no setting", 3, 24),
        (f"{HEAD}{TIME}\nA <b>b</b> <script>c", "no tag", 4, 12),
        (f"{HEAD}{TIME}\n<img src=x onerror=y>", "no tag", 4, 1),
        (f"{HEAD}{TIME}\nb < a", "stray", 4, 3),
        (f"{HEAD}{TIME}\nx\n{TIME}\ny", "“-->” stands in the words", 5, 1),
        (f"{HEAD}STYLE\n::cue {{ background: url(x) }}\n\n{TIME}\nx", "STYLE block", 3, 1),
        (f"{HEAD}REGION\nid:a\n\n{TIME}\nx", "REGION block", 3, 1),
        (f"{HEAD}{TIME}\na\u202eb", "shows nothing", 4, 1),
        (f"{HEAD}{TIME}\na&#x202e;b", "shows nothing", 4, 1),
        (f"{HEAD}{TIME}\n{'x' * 501}", "longer than", 4, 1),
    ],
)
def test_a_flaw_is_found_where_it_stands(text: str, words: str, line: int, column: int) -> None:
    flaw = read_captions(text).flaws[0]
    assert words in flaw.words
    assert (flaw.line, flaw.column) == (line, column)


def test_no_more_flaws_are_told_than_anybody_reads() -> None:
    assert len(read_captions(HEAD + "no time\n\n" * 10_000).flaws) == 20


@settings(deadline=None)
@given(st.text(max_size=400))
def test_any_text_is_read_or_has_a_flaw(text: str) -> None:
    found = read_captions(text)
    assert found.flaws or found.cues


@settings(deadline=None)
@given(st.lists(st.sampled_from(["<", "v ", ">", "00:01.000 --> 00:02.000", "\n", "\n\n", "&", "a", "-->", "NOTE"])))
def test_pieces_of_captions_in_any_order_are_read_or_have_a_flaw(pieces: list[str]) -> None:
    found = read_captions(HEAD + "".join(pieces))
    assert found.flaws or found.cues
    assert all("<" not in cue.text or "&" in "".join(pieces) for cue in found.cues)
