"""Where a sortie leaves tools and bags: in nobody's hands, and only where they may stay."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.findings import Level, Related
from briefgen.model.things import Thing
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.holding.custody import Spot
from briefgen.proof.holding.endings import around, lies_well, may_lie
from briefgen.proof.naming import spot_words, thing_words
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import list_line, map_line
from briefgen.rules.shared.races import left_out_words
from briefgen.rules.ways.travelled import flight
from briefgen.source import Text

_TAKE = "who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
_BACK = "who: ev1, do: Put the driver back., takes: 1 min, leaves: {driver: lock}"
_AT_K1 = "who: ev1, at: k1, do: Leave it., takes: 1 min, leaves: {driver: k1}"
_IN = "who: ev1, do: Go in., takes: 1 min"


@dataclass(frozen=True)
class _End:
    """Where a thing is after a sortie; `step` put it there, or nobody in this sortie did."""

    proved: SortieEvidence
    variant: Variant
    thing: str
    spot: Spot
    step: PlannedStep | None

    @property
    def name(self) -> str:
        return thing_words(self.proved.library, self.thing)

    @property
    def where(self) -> str:
        return spot_words(self.proved.library, self.spot)

    @property
    def left_out(self) -> str:
        return left_out_words(self.proved, self.variant)

    @property
    def words(self) -> Text:
        """Where the step names the thing that it moves, or else the thing's record."""
        if self.step is None:
            return _record(self.proved, self.thing).id
        record = self.step.step
        return next(words for words in (*record.leaves, *record.hands, *record.picks) if words == self.thing)


@rule("never-put-back", Level.ERROR, Needs.ORDER,
      wrong=flight(_TAKE.replace("[driver]", "[▸driver]")), right=flight(f"{_TAKE}\n{_BACK}"))  # fmt: skip
def never_put_back(evidence: Evidence) -> Iterator[Trouble]:
    """In the end nobody has anything in their hands.

    Whatever was taken is left somewhere: at home, where it is stowed, or at one of its `ends`.
    """
    for end in _wrong_ends(evidence):
        if end.spot.kind == "people":
            yield Trouble(
                end.words.position, f"{end.name} is never put back: in the end it is still {end.where}{end.left_out}.",
                write=f"leaves: {{{end.thing}: {end.proved.plan.home}}}  # in a step after this one, there",
            )  # fmt: skip


@rule("left-outside", Level.ERROR, Needs.ORDER,
      wrong=flight(f"{_TAKE}\n{_AT_K1.replace('{driver', '{▸driver')}\n{_IN}"),
      right=flight(f"{_TAKE}\n{_BACK}"))  # fmt: skip
def left_outside(evidence: Evidence) -> Iterator[Trouble]:
    """In the end every tool and bag is at home, where it is stowed, or at one of its `ends`.

    What lies in a bag is where the bag is. What is left for the next sortie on purpose stands in `carries_over`, and
    the next one brings it in or says so again. Anything else drifts off, or is missed later. The check is repeated
    with each optional task left out, and with all of them left out.
    """
    for end in _wrong_ends(evidence):
        if end.spot.kind != "people":
            yield _left(end) if end.step else _still_there(end)


def _left(end: _End) -> Trouble:
    record = _record(end.proved, end.thing)
    return Trouble(
        end.words.position,
        f"{end.name} is left {end.where}; in the end it must be {_allowed(end)}{end.left_out}. Bring it back, or write "
        "that it may stay there.",
        (Related(record.id.position, end.name),),
        list_line("ends", record.ends, end.spot.id), record.spot("ends"),
    )  # fmt: skip


def _still_there(end: _End) -> Trouble:
    sortie, title = end.proved.sortie, end.proved.sortie.title
    return Trouble(
        end.words.position,
        f"{end.name} is {end.where} when “{title}” begins, and no step brings it back{end.left_out}; in the end it "
        f"must be {_allowed(end)}. Write the step, or say in “carries_over” that it is left for later.",
        (Related(sortie.id.position, f"“{title}”"),),
        map_line("carries_over", sortie.carries_over.items(), end.thing, end.spot.id),
        sortie.spot("carries_over"),
    )  # fmt: skip


def _allowed(end: _End) -> str:
    home = end.proved.library.places[end.proved.plan.home].label_text if end.proved.plan.home else "home"
    return f"at {home}, where it is stowed, or at one of its “ends”"


def _wrong_ends(evidence: Evidence) -> Iterator[_End]:
    """Each thing of which something is left where it may not end, by who leaves it where: in the first such variant."""
    for proved in evidence.sorties.values():
        reported: set[tuple[str, Spot, str]] = set()
        for variant in proved.variants:
            for thing, spot in variant.custody.ends.items():
                if not _wrong(proved, variant, thing, spot):
                    continue
                answer = variant.custody.endings.get(thing)
                step = None if answer is None or answer.source is None else variant.plan.steps[answer.source]
                # Left by another step, or elsewhere, it is another mistake: one that is accepted must not hide it.
                key = thing, spot, step.key if step else ""
                if key not in reported:
                    reported.add(key)
                    yield _End(proved, variant, thing, spot, step)


def _wrong(proved: SortieEvidence, variant: Variant, thing: str, spot: Spot) -> bool:
    answer = variant.custody.endings.get(thing)
    if variant.custody.left.get(thing, 1) <= 0 or _may_be(proved, variant, thing, spot):
        return False
    if answer is None:  # what was wrong before, and is not touched, was told there; so is the bag in which it lies
        known = proved.before is not None and not _may_be(proved.before, proved.before.variants[0], thing, spot)
        in_wrong_bag = spot.kind == "bags" and _wrong(proved, variant, spot.id, variant.custody.ends[spot.id])
        return not known and not in_wrong_bag
    return not answer.rivals  # where it is by luck, the steps that race are told


def _may_be(proved: SortieEvidence, variant: Variant, thing: str, spot: Spot) -> bool:
    return lies_well(around(variant.custody.ends, thing, spot), may_lie(proved.plan, thing))


def _record(proved: SortieEvidence, thing: str) -> Thing:
    record = proved.library.thing(thing)
    assert record is not None  # only what is in the library has been anywhere
    return record


@rule("carried-elsewhere", Level.ERROR, Needs.ORDER,
      wrong=flight(f"{_TAKE}\n{_BACK}").replace("length: 2 h}", "length: 2 h}\n    carries_over: {driver: ▸k2}"),
      right=flight(f"{_TAKE}\n{_AT_K1}\n{_IN}")
      .replace("length: 2 h}", "length: 2 h}\n    carries_over: {driver: k1}"))  # fmt: skip
def carried_elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    """A tool or bag that a sortie says it leaves somewhere is left there.

    The next crew looks for it where this one was told to put it.
    """
    for proved in evidence.sorties.values():
        for name, goal in proved.sortie.carries_over.items():
            spot = proved.custody.ends.get(str(name))
            if spot and all(one.id != goal for one in around(proved.variants[0].custody.ends, str(name), spot)):
                library = proved.library
                said = spot_words(library, Spot("bags" if goal in library.bags else "places", str(goal)))
                yield Trouble(
                    goal.position,
                    f"{thing_words(library, name)} is said to be left {said}, but “{proved.sortie.title}” ends with it "
                    f"{spot_words(library, spot)}.",
                    write=f"{name}: {spot.id}",
                )  # fmt: skip
