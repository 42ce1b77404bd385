"""What tells people outside apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from briefgen.findings import Level, Related
from briefgen.model.fields.choices import COLOURS, PATTERNS
from briefgen.model.people import Mark, Person
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule

_WORLD = """
people:
  ev1: {label: EV1, callsign: Heron, post: outside, suit: suit-one, mark: {pattern: rings, word: Rings, colour: red}}
  ev2: {label: EV2, callsign: Wren, post: outside, suit: suit-two, mark: {MARK}}
tasks:
  look: {title: Look, purpose: To know., place: lock, steps: [{who: [ev1, ev2], do: Look at it., takes: 2 min}]}
sorties: {s: {title: S, flow: {ev1: [look], ev2: [look]}, limits: {length: 1 h}}}
"""


@rule(
    "marks-alike", Level.WARNING, Needs.REFERENCES,
    wrong=_WORLD.replace("MARK", "▸pattern: rings, word: Circles, colour: blue"),
    right=_WORLD.replace("MARK", "pattern: bars, word: Bars, colour: blue"),
)  # fmt: skip
def marks_alike(evidence: Evidence) -> Iterator[Trouble]:
    """Two people outside in one sortie have different patterns and different words, and no colour in common.

    At thirty metres, in the dark or for whoever cannot tell two colours apart, the pattern is what is left; on the
    loop it is the word. WCAG 2.2, criterion 1.4.1: colour is never the only means.
    """
    people = evidence.library.people
    seen = set()
    for sortie in evidence.library.sorties.values():
        out = [person for name, person in people.items() if person.outside and name in sortie.flow]
        for first, other in combinations([person for person in out if person.mark], 2):
            if (first.id, other.id) not in seen:
                seen.add((first.id, other.id))
                yield from _alike(first, other, [person.mark for person in out if person.mark])


def _alike(first: Person, other: Person, marks: Iterable[Mark]) -> Iterator[Trouble]:
    one, two = first.mark, other.mark
    if one is None or two is None:
        return
    pattern = _free(PATTERNS, (mark.pattern for mark in marks)) if one.pattern == two.pattern else two.pattern
    names = f"{other.label_text} and {first.label_text}"
    if one.pattern == two.pattern:
        left = "but for colours" if one.colour != two.colour else "at all"
        words = f"{names} both have the pattern “{two.pattern}”, so that nothing on the suits tells them apart {left}."
        yield _shared(one, two, "pattern", words, pattern)
    if one.colour and one.colour == two.colour:
        words = f"{names} both have the colour “{two.colour}”, so that it tells nobody who is who."
        yield _shared(one, two, "colour", words, _free(COLOURS, (mark.colour for mark in marks)))
    if one.word.lower() == two.word.lower():
        words = f"“{two.word}” is what people say for {names}, so that nobody on the loop knows who is meant."
        # Whoever is called by the other's pattern is called otherwise.
        here, there = (one, two) if two.word.lower() == pattern else (two, one)
        yield _shared(there, here, "word", words, (one.pattern if here is one else pattern).capitalize())


def _free(every: tuple[str, ...], taken: Iterable[str | None]) -> str:
    """One that nobody has yet; where all are taken, the first."""
    used = set(taken)
    return next((one for one in every if one not in used), every[0])


def _shared(one: Mark, two: Mark, key: str, words: str, write: str) -> Trouble:
    return Trouble(two.spot(key), words, (Related(one.spot(key), f"the other {key}"),), f"{key}: {write}")
