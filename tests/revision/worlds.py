"""A small plan of two people, and versions of it made from the texts of its files."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable, Iterator
from importlib.resources import files
from pathlib import Path

from briefgen.proof.evidence import Evidence
from briefgen.reading.folder import read_folder
from briefgen.reading.record import digests
from briefgen.revision.change import Change
from briefgen.revision.comparison import Comparison
from briefgen.revision.pairing.version import Version
from briefgen.revision.saying import value

Edit = tuple[str, str]
"""Words of the plan, and what stands there instead."""

WORLD = files("briefgen").joinpath("examples/small_world.yaml").read_text(encoding="utf-8")
PLAN = """
tasks:
  isolate:
    title: Isolate the feed
    purpose: Nobody works on a live plug.
    place: k1
    steps:
      - {id: off, who: ev2, do: Pull the switch down., takes: 3 min, sets: {feed: off}}
      - {id: read, who: ground, do: Confirm that the feed reads dead., takes: 2 min, verifies: {feed: off},
         after: [isolate/off]}
  lift:
    title: Lift the cover
    purpose: The valve is below it.
    place: k2
    steps:
      - {id: fetch, who: ev1, at: lock, do: Take the bag and the driver., takes: 2 min, picks: [bag-a, driver]}
      - {id: swing, who: ev1, do: Swing the cover open., takes: 4 min, with: [{driver: loosen}], sets: {cover: open},
         hazards: [shock], requires: {feed: off}, after: [isolate/read], restraint: foot plate}
      - {who: ev1, do: Look below the cover., takes: 2 min, requires: {cover: open}}
      - {who: ev1, do: Wipe the rim of the bay., takes: 1 min}
      - {id: shut, who: ev1, do: Swing the cover shut., takes: 3 min, sets: {cover: shut}}
  return:
    title: Come home
    purpose: The day ends inside.
    place: lock
    steps:
      - {id: on, who: ev2, at: k1, do: Push the switch up., takes: 2 min, sets: {feed: on}, after: [lift/shut]}
      - {id: see, who: ground, do: Confirm that the feed is live., takes: 1 min, verifies: {feed: on},
         after: [return/on]}
      - {id: in, who: [ev1, ev2], do: Pull yourselves in., takes: 5 min, leaves: {bag-a: lock, driver: lock}}
sorties:
  s:
    title: "Sortie S: the cover"
    revision: A
    flow: {ev1: [lift, return], ev2: [isolate, return], ground: [isolate, return]}
    limits: {length: 2 h, reserve: 10 min, tether: 30 m}
figures:
  front: {file: front.svg, alt: The bay from the front.}
outcomes:
  isolate-it: {does: isolates the feed, condition: on the rail, standard: without a slip}
questions:
  who-confirms: {outcome: isolate-it, asks: Name who confirms it., answers: [EV1, Ground], correct: 2,
    because: It reads it.}
"""
BASE = WORLD + PLAN


def edited(text: str, edits: Iterable[Edit]) -> str:
    """The text after edits, each of words that stand there once."""
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def version(*texts: str, picture: str = "<svg/>") -> Version:
    """The version whose files hold these texts; they must be readable."""
    with tempfile.TemporaryDirectory() as name:
        root = Path(name)
        (root / "front.svg").write_text(picture, encoding="utf-8")
        for number, text in enumerate(texts):
            (root / f"file-{number}.yaml").write_text(text, encoding="utf-8")
        reading = read_folder(root)
        assert reading.findings == ()
        return Version(Evidence(reading.library), digests(root, reading.library))


def lines(comparison: Comparison) -> list[str]:
    """Every difference in a line each, sorted; without the times that follow from it."""
    return sorted(line for change in comparison.changes for line in _lines(change) if change.topic != "Times")


def times(comparison: Comparison) -> list[str]:
    """The differences in planned times in a line each, sorted."""
    return sorted(line for change in comparison.changes for line in _lines(change) if change.topic == "Times")


def _lines(change: Change) -> Iterator[str]:
    head = f"{'!' if change.safety else ''}{change.verb} {change.subject.reference} ({' '.join(change.people)})"
    if not change.details:
        yield head
    for one in change.details:
        yield f"{head} {one.what}: {value(change, one)}"
