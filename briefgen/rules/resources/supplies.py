"""Supplies: what each suit carries lasts for the plan, and the reserve stays untouched."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.model.people import Suit
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.moving.whereabouts import Doing
from briefgen.proof.naming import step_words
from briefgen.proof.resources.supplies import SupplyRun
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.ways.travelled import flight
from briefgen.source import Position
from briefgen.units import Quantity, show_duration, show_elapsed, show_number

_LONG = "who: ev1, do: Watch the lock., takes: 2 h"


def _suit(oxygen: str) -> str:
    return (
        "\nsuits:\n  suit-one:\n    supplies:\n"
        f"      oxygen: {{holds: {oxygen}, keeps: 20 g, per_megajoule: 70 g}}"
    )  # fmt: skip


@rule(
    "supply-runs-short", Level.ERROR, Needs.ORDER,
    wrong=flight(_LONG, limits="length: 3 h").replace("ev1: [", "▸ev1: [") + _suit("120 g"),
    right=flight(_LONG, limits="length: 3 h") + _suit("240 g"),
)  # fmt: skip
def supply_runs_short(evidence: Evidence) -> Iterator[Trouble]:
    """The plan leaves every supply of every suit above its reserve.

    The reserve is for the way home after a failure, not for work. What is used follows from the likely times: so much
    per hour, and so much per megajoule of metabolic work. A step costs its `effort`, travel moderate effort; waiting,
    and the time before the first and after the last step, cost rest.
    """
    for proved in evidence.sorties.values():
        for run in (run for runs in proved.supplies.runs.values() for run in runs if run.short):
            person = proved.library.people[run.person].label_text
            when = run.reserve_reached if run.reserve_reached is not None else proved.timeline.finish
            step = _doing(proved, run, when)
            yield Trouble(
                _in_flow(proved, run.person),
                f"{_name(run)} of {person} reaches its reserve of {_shown(run, float(run.supply.keeps))} at "
                f"{show_elapsed(when)}{step}; at the end of “{proved.sortie.title}”, at "
                f"{show_elapsed(run.finish)}, {_end_words(run)}. Shorten or ease this person's steps, or pack more.",
                (Related(_supply_spot(proved, run), f"{_name(run)} of this suit"),),
            )  # fmt: skip


def _end_words(run: SupplyRun) -> str:
    if run.left < 0:
        return f"{_shown(run, -run.left)} would be missing"
    return f"{_shown(run, run.left)} would be left"


def _doing(proved: SortieEvidence, run: SupplyRun, when: float) -> str:
    stay = proved.whereabouts.at(run.person, when)
    if stay is None or stay.doing is Doing.DONE:
        return ""
    words = {Doing.STEP: "during", Doing.WAY: "on the way to", Doing.WAIT: "waiting for"}[stay.doing]
    return f", {words} {step_words(proved.library, stay.visit.step)}"


def _name(run: SupplyRun) -> str:
    words = run.name.replace("-", " ")
    return words[:1].upper() + words[1:]


def _shown(run: SupplyRun, amount: float) -> str:
    return f"{show_number(amount / run.factor, 3)} {run.unit}"


def _in_flow(proved: SortieEvidence, person: str) -> Position:
    return next(key.position for key in proved.sortie.flow if key == person)


def _supply_spot(proved: SortieEvidence, run: SupplyRun) -> Position:
    return next(key.position for key in proved.library.suits[run.suit].supplies if key == run.name)


@rule(
    "limit-beyond-supplies", Level.WARNING, Needs.ORDER,
    wrong=flight("who: ev1, do: Watch the lock., takes: 1 h", limits="length: ▸4 h").replace("length: ▸", "▸length: ")
    + _suit("120 g"),
    right=flight("who: ev1, do: Watch the lock., takes: 1 h", limits="length: 1 h 30 min") + _suit("120 g"),
)  # fmt: skip
def limit_beyond_supplies(evidence: Evidence) -> Iterator[Trouble]:
    """The time that may be planned is no longer than the suits' supplies last.

    Slack is counted up to the limit, so a limit that the suits don't meet shows time that nobody has. Beyond the plan's
    end, use goes on at the person's mean rate. The supply that ends the sortie first is named.
    """
    for proved in evidence.sorties.values():
        ends = proved.supplies.ends
        limit = proved.sortie.limits
        if ends is None or ends.short or ends.reserve_reached is None or ends.reserve_reached >= limit.usable - 0.5:
            continue
        yield Trouble(
            limit.spot("length"),
            f"“{proved.sortie.title}” may be planned up to {show_duration(limit.usable)}, but {_name(ends).lower()} of "
            f"{proved.library.people[ends.person].label_text} would reach its reserve at "
            f"{show_elapsed(ends.reserve_reached)}. Slack counted beyond that is none.",
            (Related(_supply_spot(proved, ends), f"{_name(ends)} of this suit"),),
        )  # fmt: skip


@rule(
    "no-suit", Level.WARNING, Needs.REFERENCES,
    wrong=flight("who: ev1, do: Look around., takes: 2 min")
    + "\npeople:\n  ▸ev1: {label: EV1, post: outside, mark: {pattern: rings, word: Rings}}",
    right=flight("who: ev1, do: Look around., takes: 2 min")
    + "\npeople:\n  ev1: {label: EV1, post: outside, suit: suit-one, mark: {pattern: rings, word: Rings}}",
)  # fmt: skip
def no_suit(evidence: Evidence) -> Iterator[Trouble]:
    """Everybody who goes outside has a suit with supplies.

    Without one nothing says how long the person can stay out, and no page can show it.
    """
    library = evidence.library
    flown = {str(person) for sortie in library.ordered_sorties for person in sortie.flow}
    for name in sorted(flown & set(library.people)):
        person = library.people[name]
        suit = library.suits.get(person.suit) if person.suit else None
        if person.outside and (suit is None or not suit.supplies):
            what = "has no suit" if suit is None else f"has a suit without supplies, {suit.label_text}"
            yield Trouble(
                person.id.position, f"{person.label_text} goes outside and {what}, so nothing says for how long.",
                write="suit: …" if suit is None else "supplies: {…}",
            )  # fmt: skip


@rule(
    "no-metabolic-rates", Level.ERROR, Needs.REFERENCES,
    wrong=flight("who: ev1, do: Look around., takes: 2 min")
    + "\nprogramme:\n  ▸p: {title: P, sorties: [s], paces: {outside: 6 m/min, loaded: 3 m/min}}",
    right=flight("who: ev1, do: Look around., takes: 2 min") + "\nprogramme:\n  p:\n    title: P\n    sorties: [s]\n"
    "    paces: {outside: 6 m/min, loaded: 3 m/min}\n"
    "    effort: {rest: 120 W, light: 220 W, moderate: 320 W, hard: 450 W}",
)  # fmt: skip
def no_metabolic_rates(evidence: Evidence) -> Iterator[Trouble]:
    """Where a suit uses something per megajoule, the programme gives the metabolic rates.

    Without the watts behind rest, light, moderate and hard, nobody can tell how long oxygen lasts.
    """
    programme = evidence.library.programme
    if programme is None or programme.effort is not None:
        return
    for suit in evidence.library.suits.values():
        for name, supply in suit.supplies.items():
            if supply.per_megajoule is not None:
                yield Trouble(
                    programme.id.position,
                    f"{suit.label_text} uses {name.replace('-', ' ')} per megajoule, but the programme gives no "
                    "metabolic rates.",
                    (Related(supply.spot("per_megajoule"), "used per megajoule"),),
                    "effort: {rest: … W, light: … W, moderate: … W, hard: … W}",
                )  # fmt: skip
                return


@rule(
    "negative-amount", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="suits:\n  suit-one:\n    supplies:\n      oxygen: {holds: 2 kg, ▸keeps: -0.2 kg, per_megajoule: 0.07 kg}",
    right="suits:\n  suit-one:\n    supplies:\n      oxygen: {holds: 2 kg, keeps: 0.2 kg, per_megajoule: 0.07 kg}",
)  # fmt: skip
def negative_amount(evidence: Evidence) -> Iterator[Trouble]:
    """What a suit holds, keeps and uses, and the watts of every effort, are not below zero.

    Less than nothing would make a supply last for ever in the computation, and nowhere else.
    """
    for suit in evidence.library.suits.values():
        yield from _negative_in(suit)
    programme = evidence.library.programme
    if programme is not None and programme.effort is not None:
        for word in ("rest", "light", "moderate", "hard"):
            rate: Quantity = getattr(programme.effort, word)
            if rate < 0:
                yield Trouble(programme.effort.spot(word), f"“{word}” effort of {rate.written} is less than nothing.")


def _negative_in(suit: Suit) -> Iterator[Trouble]:
    for name, supply in suit.supplies.items():
        for key in ("holds", "keeps", "per_hour", "per_megajoule"):
            amount: Quantity | None = getattr(supply, key)
            if amount is not None and amount < 0:
                yield Trouble(
                    supply.spot(key), f"“{key}” of {name.replace('-', ' ')} is {amount.written}, less than nothing."
                )
