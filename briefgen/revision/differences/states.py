"""Equipment in a sortie: how it is found and left, and who sets and who confirms the state of each control."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.model.library import Library
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.ordering.states import AtStart, Item
from briefgen.revision.change import Change, Detail, Subject, Topic, Verb, detail
from briefgen.revision.pairing.pair import Pair
from briefgen.revision.telling import Telling

AT_START, AT_END = "At the start", "In the end"
Acting = Mapping[tuple[str, str, str], tuple[str, ...]]
"""Who acts, by equipment, state and what is done with it."""


def state_changes(pair: Pair) -> Iterator[Change]:
    """Every difference in states, for equipment that is in both versions."""
    for before, after in pair.sorties:
        was, now = _acting(pair, before, old=True), _acting(pair, after, old=False)
        for name, record in pair.new.library.equipment.items():
            old = _name_before(pair, name)
            if old not in pair.old.library.equipment:
                continue
            details = [*_held(pair, old, name, before, after)]
            details += _acts(pair, name, was, now) if record.control else []
            if details:
                subject = Subject("equipment", name, pair.now.name(name, "equipment"))
                people = tuple(dict.fromkeys(one for key, who in now.items() if key[0] == name for one in who))
                yield Change(Topic.STATES, Verb.CHANGED, subject, tuple(details), people, (str(after.sortie.id),))


def _name_before(pair: Pair, name: str) -> str:
    back = (was for (kind, was), now in pair.names.renamed.items() if kind == "equipment" and now == name)
    return next(back, name)


def _held(pair: Pair, old: str, new: str, before: SortieEvidence, after: SortieEvidence) -> Iterator[Detail]:
    """How the sortie finds the equipment, and how it leaves it."""
    control = pair.new.library.equipment[new].control
    ends = (AT_END, before.states.ends, after.states.ends)
    starts = (AT_START, before.state_starts, after.state_starts)
    # What a first sortie finds, the equipment's own record says.
    for what, was, now in (starts, ends) if before.before and after.before else (ends,):
        one, other = _states(pair.old.library, old, was), _states(pair.new.library, new, now)
        if one != other:
            yield from detail(what, _said(one), _said(other), control)


def _states(library: Library, name: str, held: Mapping[Item, AtStart]) -> dict[str, str]:
    """The state of each item by its words; one without a name for an equipment without parts."""
    record = library.equipment[name]
    return {record.item_words(item): held[name, item].state for item in record.items}


def _said(states: Mapping[str, str]) -> str:
    """One state for all, or each state with its items."""
    if len(set(states.values())) == 1:
        return next(iter(states.values()))
    items: dict[str, list[str]] = {}
    for item, state in states.items():
        items.setdefault(state, []).append(item)
    return "; ".join(f"{state} ({', '.join(names)})" for state, names in items.items())


def _acting(pair: Pair, proved: SortieEvidence, *, old: bool) -> Acting:
    """Who sets and who confirms which state, in the new version's names."""
    found: dict[tuple[str, str, str], tuple[str, ...]] = {}
    for step in proved.plan.steps:
        for named, verb in ((step.step.sets, "set by"), (step.step.verifies, "confirmed by")):
            for name, state in named.items():
                key = pair.names.record("equipment", str(name)) if old else str(name)
                people = map(pair.now_person, step.people) if old else step.people
                mine = found.get((key, str(state), verb), ())
                found[key, str(state), verb] = tuple(sorted({*mine, *people}))
    return found


def _acts(pair: Pair, name: str, was: Acting, now: Acting) -> Iterator[Detail]:
    """Who sets or confirms a control now, and who did before."""
    for key in sorted({*was, *now}):
        if key[0] == name and was.get(key) != now.get(key):
            what = f"“{key[1]}” {key[2]}"
            yield Detail(what, _who(pair.was, pair, was.get(key, ())), _who(pair.now, pair, now.get(key, ())), True)


def _who(telling: Telling, pair: Pair, people: tuple[str, ...]) -> str:
    """Their labels in their own version."""
    if telling is pair.was:
        back = {pair.now_person(name): name for name in pair.old.library.people}
        people = tuple(back.get(name, name) for name in people)
    return telling.people(people) or "nobody"
