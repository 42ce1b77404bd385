"""A clip as it stands in a page: the browser's own player, its captions built into the page, and its transcript.

A page in a folder may load a film from it, but browsers let it load no captions: so the cues stand in the page.
"""

from __future__ import annotations

import json
from dataclasses import dataclass

from briefgen.model.figures import Callout, Figure
from briefgen.pages.context import PageContext
from briefgen.pages.html.pictures import clip_at
from briefgen.reading.figures.clips import captions_of
from briefgen.reading.files import Unreadable
from briefgen.units import show_number


@dataclass(frozen=True)
class ClipRow:
    """A clip, ready to play. `cues` is JSON: start, end (in seconds) and words; `takes` its length, if known."""

    source: str
    captions: str
    cues: str
    says: str
    takes: str


@dataclass(frozen=True)
class Lit:
    """From when until when a callout is lit, in seconds; without an end until the clip's own."""

    since: str
    until: str


def clip_row(context: PageContext, record: Figure) -> ClipRow | None:
    """A figure as a clip; None for one that does not move."""
    if not record.is_clip:
        return None
    name, captions = str(record.file), str(record.captions)
    return context.once(("clip", name, captions, str(record.says)), lambda: ClipRow(
        context.links.picture(name), context.links.picture(captions), _cues(context, captions), str(record.says),
        _takes(context, name),
    ))  # fmt: skip


def _cues(context: PageContext, captions: str) -> str:
    try:
        cues = captions_of(context.pictures.files[captions]).cues
    except Unreadable:
        cues = ()
    return json.dumps([[cue.start, cue.end, cue.text] for cue in cues], ensure_ascii=False)


def _takes(context: PageContext, name: str) -> str:
    clip = clip_at(context.pictures.files[name])
    whole = round(clip.seconds) if clip and clip.seconds else 0
    return f"{whole // 60}:{whole % 60:02d} min" if whole else ""


def lit_of(callout: Callout) -> Lit:
    """When a clip's callout is lit."""
    return Lit(show_number(callout.begins, 3), show_number(callout.until.likely, 3) if callout.until else "")
