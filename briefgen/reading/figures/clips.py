"""A clip and its captions: what the files are by their own bytes, and that captions and callouts end with the film.

Time-based media need captions and a text alternative: W3C, Web Content Accessibility Guidelines 2.2, criteria 1.2.1
to 1.2.3.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from briefgen.findings import Finding, Level, Related
from briefgen.model.figures import Figure
from briefgen.reading.figures.boxes import read_boxes
from briefgen.reading.figures.captions import LARGEST, Captions, read_captions
from briefgen.reading.figures.clip import Clip, NoClip
from briefgen.reading.figures.elements import read_elements
from briefgen.reading.files import Unreadable, bytes_of, ordinary
from briefgen.source import Position
from briefgen.units import show_number

BUDGET = 10_000_000
"""The most bytes of a clip that goes without a warning."""
_SLACK = 0.05
"""Seconds that captions and callouts may outlast a clip: its last picture is shown for about that long."""


def read_clip(path: Path) -> Clip:
    """What a clip's file says of itself. Raises NoClip, or Unreadable for what is no ordinary file."""
    with ordinary(path) as (stream, size):
        return read_elements(stream, size) if path.suffix.lower() == ".webm" else read_boxes(stream, size)


def captions_of(path: Path) -> Captions:
    """The cues of a file of captions, and its flaws. Raises Unreadable; what is not UTF-8 is one flaw."""
    data = bytes_of(path, LARGEST)
    try:
        return read_captions(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        return read_captions(data[: error.start].decode("utf-8-sig")).not_utf_8(data[: error.start])


def clip_findings(root: Path, figure: Figure) -> Iterator[Finding]:
    """What is wrong within the files of a clip, all of which are there."""
    spot, length = figure.file.position, None
    try:
        length = read_clip(root / figure.file).seconds
        if length is None:
            yield _of(figure, "clip-length-unknown", Level.WARNING, f"The clip “{figure.file}” does not say how long "
                      "it is: nobody can go to a moment of it. Save it anew as a finished file.")  # fmt: skip
    except (NoClip, Unreadable) as reason:
        yield Finding("figure-type", Level.ERROR, spot, f"“{figure.file}” is no clip that every browser plays: "
                      f"{reason}. Save it as MP4 or WebM.")  # fmt: skip
    size = (root / figure.file).stat().st_size
    if size > BUDGET:
        yield _of(figure, "clip-too-large", Level.WARNING, f"The clip “{figure.file}” has {show_number(size / 1e6, 1)} "
                  f"MB, and a clip should have {BUDGET // 1_000_000} MB at most: cut it, or make its picture "
                  "smaller.")  # fmt: skip
    yield from _captions(root, figure, length)
    yield from _late_callouts(figure, length)


def _of(figure: Figure, rule: str, level: Level, sentence: str) -> Finding:
    return Finding(rule, level, figure.file.position, sentence)


def _captions(root: Path, figure: Figure, length: float | None) -> Iterator[Finding]:
    if figure.captions is None:
        return
    name, related = str(figure.captions), (Related(figure.captions.position, f"the figure “{figure.id}”"),)
    try:
        captions = captions_of(root / name)
    except Unreadable as reason:
        yield Finding("figure-missing", Level.ERROR, figure.captions.position,
                      f"The file of captions “{name}” of figure “{figure.id}” can't be read: {reason}.")  # fmt: skip
        return
    for flaw in captions.flaws:
        sentence = f"In the captions of figure “{figure.id}” {flaw.words}."
        yield Finding("captions-unreadable", Level.ERROR, Position(name, flaw.line, flaw.column), sentence, related)
    for cue in captions.cues:
        if length is not None and cue.end > length + _SLACK:
            yield Finding("captions-outlast-clip", Level.WARNING, Position(name, cue.line, 1),
                          f"This cue ends at {_time(cue.end)}, and the clip “{figure.file}” at {_time(length)}.",
                          related)  # fmt: skip
            return


def _late_callouts(figure: Figure, length: float | None) -> Iterator[Finding]:
    for name, callout in figure.callouts.items():
        for key, moment in (("from", callout.since), ("until", callout.until)):
            if length is not None and moment is not None and moment.likely > length + _SLACK:
                yield Finding("callout-outlasts-clip", Level.WARNING, callout.spot(key),
                              f"Callout “{name}” is lit {key} {_time(moment.likely)}, and the clip ends at "
                              f"{_time(length)}.", write=f"{key}: {_time(length)}")  # fmt: skip
                break


def _time(seconds: float) -> str:
    return f"{show_number(seconds, 2)} s"
