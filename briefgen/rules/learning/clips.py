"""Clips: films with a poster, captions and a transcript, and callouts that are lit while they are to be seen."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, described, rule

_CLIP = (
    "figures:\n  flag: {{file: flag.webm, alt: The flag., poster: flag.png, captions: flag.vtt, says: It drops.{}}}\n"
)
_RIGHT = _CLIP.format("")

described(
    "clip-incomplete", __name__,
    """A clip has a poster, captions and a transcript.

    Without the poster there is nothing on paper; without captions and transcript whoever can't hear or see it, or has
    no sound, learns nothing: W3C, Web Content Accessibility Guidelines 2.2, criteria 1.2.1, 1.2.2 and 1.2.3.
    """,
    wrong="figures:\n  ▸flag: {file: flag.webm, alt: The flag., poster: flag.png}", right=_RIGHT, spoils=False,
)  # fmt: skip
described(
    "clip-too-large", __name__,
    """A clip is small enough to be carried: 10 MB at most.

    A briefing goes along on a tablet; a clip of more keeps everybody waiting for it. Common practice, no source.
    """,
    wrong="", right=_RIGHT, spoils=False, level=Level.WARNING,
)  # fmt: skip
described(
    "clip-length-unknown", __name__,
    """A clip's file says how long it is.

    A recording that was never finished has no length: nobody can go to a moment of it, and what its captions outlast
    is not known.
    """,
    wrong="", right=_RIGHT, spoils=False, level=Level.WARNING,
)  # fmt: skip
described(
    "captions-unreadable", __name__,
    """Captions are a WebVTT file that can be read from its first line to its last.

    A browser passes over a cue that it can't read, and its words are missing. Only cues and notes stand in the file;
    the finding stands in it. W3C, WebVTT: The Web Video Text Tracks Format.
    """,
    wrong="", right=_RIGHT, spoils=False,
)  # fmt: skip
described(
    "captions-outlast-clip", __name__,
    """Captions end with their clip.

    What is said after its end is never shown; mostly the captions are those of another cut.
    """,
    wrong="", right=_RIGHT, spoils=False, level=Level.WARNING,
)  # fmt: skip
described(
    "callout-outlasts-clip", __name__,
    """A callout of a clip is lit from and until moments that the clip has.

    What lights up after its end is never seen.
    """,
    wrong="", right=_RIGHT, spoils=False, level=Level.WARNING,
)  # fmt: skip


@rule(
    "callout-never-lit", Level.WARNING, Needs.REFERENCES,
    wrong=_CLIP.format(", callouts: {post: {at: [5 %, 5 %], shows: The post, from: 4 s, ▸until: 2 s}}"),
    right=_CLIP.format(", callouts: {post: {at: [5 %, 5 %], shows: The post, from: 2 s, until: 4 s}}"),
)  # fmt: skip
def callout_never_lit(evidence: Evidence) -> Iterator[Trouble]:
    """A callout of a clip is lit until a moment after the one from which it is.

    Otherwise it never lights up, and what is spoken of is not to be seen.
    """
    for figure in evidence.library.figures.values():
        for name, callout in figure.callouts.items():
            if callout.until is not None and callout.until.likely <= callout.begins:
                yield Trouble(callout.spot("until"), f"Callout “{name}” is lit until a moment that is not after its "
                              "`from`.")  # fmt: skip
