"""Captions: a small, strict reader of WebVTT (W3C, WebVTT: The Web Video Text Tracks Format, Candidate Recommendation).

Strict, because a browser passes over what it can't read, and the words are then missing without a word. Styles and
regions may not stand in a file. Linear in its length.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape

from briefgen.language.printable import control_in

LARGEST = 1_000_000
_MOST_PROBLEMS = 20
_LONGEST_LINE = 500
_STAMP = r"(?:([0-9]{2,4}):)?([0-5][0-9]):([0-5][0-9])\.([0-9]{3})"
_TIMING = re.compile(rf"{_STAMP}[ \t]+-->[ \t]+{_STAMP}(.*)")
_SETTING = re.compile(r"(?:vertical:(?:rl|lr)|(?:line|position|size|align):[a-z0-9.,%-]{1,40})")
_TAG = re.compile(r"<([^<>]{0,200})>")
_ALLOWED = re.compile(rf"/?(?:[cibu]|ruby|rt|v|lang)(?:\.[\w-]+)*(?:[ \t][^&]*)?|{_STAMP}")
_BLOCKS = re.compile(r"(STYLE|REGION)[ \t]*")


@dataclass(frozen=True)
class Cue:
    """What is shown from `start` until `end`, in seconds; a line a line."""

    start: float
    end: float
    text: str
    line: int


@dataclass(frozen=True)
class Flaw:
    """What is wrong in a file of captions; line and column count from one."""

    words: str
    line: int
    column: int = 1


@dataclass(frozen=True)
class Captions:
    """The cues in order, and what could not be read."""

    cues: tuple[Cue, ...]
    flaws: tuple[Flaw, ...]

    def not_utf_8(self, before: bytes) -> Captions:
        """The same with the flaw that the file is no UTF-8 text after the bytes `before`."""
        line, column = before.count(b"\n") + 1, len(before) - (before.rfind(b"\n") + 1) + 1
        return Captions(self.cues, (Flaw("a byte stands that is no UTF-8 text: save the file as UTF-8", line, column),))


def read_captions(text: str) -> Captions:
    """The cues of a WebVTT file.

    >>> read_captions("WEBVTT\\n\\n00:01.000 --> 00:02.500\\n<v Heron>Open.").cues[0].text
    'Heron: Open.'
    """
    lines = re.split(r"\r\n|\n|\r", text.removeprefix("\ufeff"))
    if not re.fullmatch(r"WEBVTT(?:[ \t].*)?", lines[0]):
        return Captions((), (Flaw("its first line is not “WEBVTT”", 1),))
    cues: list[Cue] = []
    flaws = [Flaw("an empty line must follow the first", 2)] if len(lines) > 1 and lines[1].strip() else []
    for number, block in _blocks(lines):
        flaws += _read(number, block, cues)
        if len(flaws) >= _MOST_PROBLEMS:
            break
    if not cues and not flaws:
        flaws = [Flaw("nothing is said in it", 1)]
    return Captions(tuple(cues), tuple(flaws[:_MOST_PROBLEMS]))


def _blocks(lines: list[str]) -> Iterator[tuple[int, list[str]]]:
    """Each stretch of lines that are not empty, after the first two lines, with the number of its first."""
    start = 2
    for number in range(2, len(lines) + 1):
        if number == len(lines) or not lines[number]:
            if number > start:
                yield start + 1, lines[start:number]
            start = number + 1


def _read(number: int, block: list[str], cues: list[Cue]) -> Iterator[Flaw]:
    """Adds a block's cue to those before it, or says what is wrong with it."""
    for at, row in enumerate(block):
        code = control_in(row)
        if code or len(row) > _LONGEST_LINE:
            yield Flaw(f"a character that shows nothing ({code}) stands in it" if code
                       else f"a line is longer than {_LONGEST_LINE} letters", number + at)  # fmt: skip
            return
    if re.match(r"NOTE(?:[ \t]|$)", block[0]):
        return
    if _BLOCKS.fullmatch(block[0]) and "-->" not in "".join(block[1:2]):
        yield Flaw(f"a {block[0].strip()} block stands in it: only cues and notes may", number)
        return
    first = 0 if "-->" in block[0] else 1
    timing = _TIMING.fullmatch(block[first].rstrip()) if first < len(block) else None
    if timing is None:
        yield Flaw("a time is expected here, like “00:01.000 --> 00:04.500”", number + min(first, len(block) - 1))
        return
    yield from _cue(number + first, timing, block[first + 1 :], cues)


def _cue(number: int, timing: re.Match[str], rows: list[str], cues: list[Cue]) -> Iterator[Flaw]:
    start, end = _seconds(timing.groups()[:4]), _seconds(timing.groups()[4:8])
    wrong = next((one for one in timing[9].split() if not _SETTING.fullmatch(one)), None)
    if wrong is not None or (timing[9] and timing[9][0] not in " \t"):
        yield Flaw(f"“{(wrong or timing[9])[:40]}” is no setting of a cue", number, timing.start(9) + 1)
    if end <= start:
        yield Flaw("a cue ends before it begins", number, timing.start(6) + 1)
    elif cues and start < cues[-1].start:
        yield Flaw("a cue begins before the one above it: put them in the order of time", number)
    elif not any(row.strip() for row in rows):
        yield Flaw("a cue has no words", number)
    flaws = [flaw for at, row in enumerate(rows, start=number + 1) for flaw in _words_flaws(row, at)]
    yield from flaws
    if not flaws and end > start:
        cues.append(Cue(start, end, "\n".join(map(_plain, rows)), number))


def _words_flaws(row: str, number: int) -> Iterator[Flaw]:
    if "-->" in row:
        yield Flaw("“-->” stands in the words of a cue: an empty line is missing before the next cue", number)
        return
    for found in _TAG.finditer(row):
        if not _ALLOWED.fullmatch(found[1]):
            yield Flaw(f"“<{found[1][:40]}>” is no tag of captions: write “&lt;” for “<”", number, found.start() + 1)
            return
    stray = re.search(r"[<>]", _TAG.sub(lambda found: " " * len(found[0]), row))
    if stray:
        yield Flaw(f"a stray “{stray[0]}”: write “&lt;” for “<” and “&gt;” for “>”", number, stray.start() + 1)
    elif control_in(unescape(row)):
        yield Flaw("a character that shows nothing stands in it", number)


def _plain(row: str) -> str:
    """A line without its tags; who speaks stands before the words."""
    named = re.sub(r"<v(?:\.[\w-]+)*[ \t]+([^<>]{1,200})>", lambda found: f"{found[1].strip()}: ", row)
    return unescape(_TAG.sub("", named)).strip()


def _seconds(parts: tuple[str | None, ...]) -> float:
    hours, minutes, seconds, thousandths = (int(part or 0) for part in parts)
    return hours * 3600 + minutes * 60 + seconds + thousandths / 1000
