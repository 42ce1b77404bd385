"""Tools and bags in a sortie: from where each is taken, where it lies at the start and in the end, and what is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import Act, Spot
from briefgen.proof.naming import spot_words
from briefgen.revision.change import Change, Detail, Subject, Topic, Verb, detail
from briefgen.revision.pairing.pair import Pair, step_subject

TAKEN, AT_START, AT_END, LEFT = "Comes from", "At the start", "In the end", "Left over"


def tool_changes(pair: Pair) -> Iterator[Change]:
    """Every difference in where things are, for things that are in both versions."""
    for before, after in pair.sorties:
        yield from _ends(pair, before, after)
        yield from _taken(pair, before, after)


def _spot(pair: Pair, spot: Spot) -> Spot:
    """A spot of the old version by its new name."""
    return Spot(spot.kind, pair.names.record(spot.kind, spot.id))


def _ends(pair: Pair, before: SortieEvidence, after: SortieEvidence) -> Iterator[Change]:
    """Things that lie elsewhere at the start or in the end; sorties before this one may be the reason."""
    was, now = before.custody, after.custody
    for thing in was.starts:
        name = _now(pair, thing)
        if name in now.starts:
            # Where a first sortie finds it is where it is stowed, which its own record says.
            later = before.before is not None and after.before is not None
            details = [*_at(pair, AT_START, was.starts[thing], now.starts[name])] if later else []
            details += _at(pair, AT_END, was.ends[thing], now.ends[name])
            if thing in was.left and name in now.left and was.left[thing] != now.left[name]:
                details += detail(LEFT, f"{was.left[thing]} pieces", f"{now.left[name]} pieces")
            if details:
                yield Change(
                    Topic.TOOLS, Verb.CHANGED, _subject(pair, name), tuple(details), _users(after, name),
                    (str(after.sortie.id),),
                )  # fmt: skip


def _at(pair: Pair, what: str, was: Spot, now: Spot) -> tuple[Detail, ...]:
    if _spot(pair, was) == now:
        return ()
    return detail(what, spot_words(pair.old.library, was), spot_words(pair.new.library, now))


def _taken(pair: Pair, before: SortieEvidence, after: SortieEvidence) -> Iterator[Change]:
    """Steps in both versions that find a thing in another place, in another bag or with somebody else."""
    was, now = _found(before), _found(after)
    told: set[tuple[str, tuple[str, ...]]] = set()
    for (key, thing), spot in was.items():
        step, name = after.plan.step(pair.names.steps.get(key, "")), _now(pair, thing)
        found = now.get((step.key, name)) if step else None
        if step and found and _spot(pair, spot) != found and (name, step.people) not in told:
            told.add((name, step.people))
            words = spot_words(pair.old.library, spot), spot_words(pair.new.library, found)
            what = Detail(f"{pair.now.name(name, 'tools', 'bags')} {TAKEN.lower()}", *words)
            subject = step_subject(str(step.task.id), step.step)
            yield Change(Topic.TOOLS, Verb.CHANGED, subject, (what,), step.people, (str(after.sortie.id),))


def _found(proved: SortieEvidence) -> Mapping[tuple[str, str], Spot]:
    """Where each step finds each thing that it takes or uses."""
    acts = (Act.PICKS, Act.USES)
    return {
        (proved.plan.steps[one.handling.step].key, one.handling.thing): one.chain[0]
        for one in reversed(proved.custody.handled)
        if one.handling.act in acts
    }


def _users(proved: SortieEvidence, thing: str) -> tuple[str, ...]:
    """Who handles a thing in a sortie."""
    steps = (proved.plan.steps[one.handling.step] for one in proved.custody.handled if one.handling.thing == thing)
    return tuple(dict.fromkeys(person for step in steps for person in step.people))


def _now(pair: Pair, thing: str) -> str:
    kind = "tools" if thing in pair.old.library.tools else "bags"
    return pair.names.record(kind, thing)


def _subject(pair: Pair, thing: str) -> Subject:
    singular = "tool" if thing in pair.new.library.tools else "bag"
    return Subject(singular, thing, pair.now.name(thing, "tools", "bags"))
