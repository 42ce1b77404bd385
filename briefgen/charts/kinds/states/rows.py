"""The rows of the states chart: what each equipment is like over time, who looks at it, and what relies on it.

A step brings a state about as it ends. An equipment of many items is told as a whole: how many are in which state.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.charts.chart import Href
from briefgen.charts.drawing.words import plain
from briefgen.charts.kinds.timeline.rows import step_href
from briefgen.model.fields.values import EquipmentRef
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.ordering.states import Item, items_named
from briefgen.units import MINUTE


@dataclass(frozen=True)
class Band:
    """A state from `start` to `end` (seconds). `cause` is what brought it about; `begun`: it is as the sortie began."""

    start: float
    end: float
    state: str
    begun: bool
    cause: str
    href: str


@dataclass(frozen=True)
class Use:
    """A step that confirms a state (`looks`) or relies on it."""

    start: float
    end: float
    looks: bool
    words: str
    href: str


@dataclass(frozen=True)
class Lane:
    """An equipment. `control`: it keeps a hazard controlled."""

    id: str
    name: str
    control: bool
    href: str
    bands: tuple[Band, ...]
    uses: tuple[Use, ...]


@dataclass(frozen=True)
class Rows:
    """All equipment that a sortie changes or relies on, controls first. `until` is where the drawing ends."""

    sortie: str
    title: str
    lanes: tuple[Lane, ...]
    until: float


def states_rows(evidence: SortieEvidence, href: Href) -> Rows:
    """The rows of one sortie, with the likely times. Raises CircleFound when the order runs in a circle."""
    # A little beyond the finish, so that what the last step brings about is seen.
    until = max(evidence.timeline.finish, MINUTE) * 1.02
    touched = {item[0] for item in evidence.states.changes} | {met.need.item[0] for met in evidence.states.met}
    named = [name for name in evidence.library.equipment if name in touched]
    named.sort(key=lambda name: not evidence.library.equipment[name].control)
    lanes = tuple(_lane(evidence, name, href, until) for name in named)
    return Rows(str(evidence.sortie.id), plain(evidence.sortie.title), lanes, until)


def _lane(evidence: SortieEvidence, name: str, href: Href, until: float) -> Lane:
    record = evidence.library.equipment[name]
    return Lane(
        name, record.label_text, record.control, href("equipment", name, ""),
        tuple(_bands(evidence, name, href, until)), tuple(_uses(evidence, name, href)),
    )  # fmt: skip


def _bands(evidence: SortieEvidence, name: str, href: Href, until: float) -> Iterator[Band]:
    states: dict[Item, str] = {
        (name, item): evidence.states.starts[name, item].state for item in evidence.library.equipment[name].items
    }
    now, cause, link, begun = 0.0, "as the sortie begins", "", _told(states)
    setting = [step for step in evidence.plan.steps if name in step.step.sets]
    for step in sorted(setting, key=lambda step: (evidence.timeline.times[step.index].end, step.index)):
        end = evidence.timeline.times[step.index].end
        before = _told(states)
        states |= {item: _of(step.step.sets, name) for item in items_named(evidence.plan, step, name)}
        if _told(states) == before:
            continue
        if end > now:
            yield Band(now, end, before, before == begun, cause, link)
        now, cause, link = end, plain(step.step.told), step_href(step, href)
    yield Band(now, until, _told(states), _told(states) == begun, cause, link)


def _of(named: Mapping[EquipmentRef, str], name: str) -> str:
    """What is said of an equipment; the keys are references, which are their ids."""
    return next(str(state) for key, state in named.items() if key == name)


def _told(states: dict[Item, str]) -> str:
    """`closed`, or `9 dusty, 3 brushed` where items differ."""
    counted = Counter(states.values())
    if len(counted) == 1:
        return next(iter(counted))
    return ", ".join(f"{count} {state}" for state, count in counted.items())


def _uses(evidence: SortieEvidence, name: str, href: Href) -> Iterator[Use]:
    for step in evidence.plan.steps:
        for looks, named in ((True, step.step.verifies), (False, step.step.requires)):
            if name in named:
                times = evidence.timeline.times[step.index]
                state = _of(named, name)
                words = f"{'confirms' if looks else 'needs'} {state}: {plain(step.step.told).rstrip('.')}"
                yield Use(times.start, times.end, looks, words, step_href(step, href))
