"""How much somebody carries at once."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.holding.carrying import Load, too_much
from briefgen.proof.naming import people_words, step_words, thing_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import step_line
from briefgen.rules.shared.races import left_out_words
from briefgen.rules.ways.travelled import flight
from briefgen.units import show_number

_TWO_HANDS = "people: {ev1: {label: EV1, post: outside, suit: suit-one, carries: {items: 1}}}\n"
_TAKE = """
    who: ev1, do: Take the bag., takes: 1 min, picks: [bag-a]
    who: ev1, do: Take the driver., takes: 1 min, picks: [▸driver]
    who: ev1, do: Put all back., takes: 1 min, leaves: {bag-a: lock, driver: lock}
"""


@rule("too-much-carried", Level.ERROR, Needs.ORDER,
      wrong=_TWO_HANDS + flight(_TAKE),
      right=_TWO_HANDS.replace("items: 1", "items: 2") + flight(_TAKE.replace("▸", "")))  # fmt: skip
def too_much_carried(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody carries more things at once, or more mass, than they can.

    Two hands, a few hooks: what hangs beyond that swings, snags, or drifts off. A person's `carries` says how many
    `items` and how much `mass`; a bag is one item, with the mass of all that is in it. What may be with somebody, by
    order, counts. The finding stands at the step before which something must be put down. The check is repeated with
    the optional tasks left out.
    """
    seen: set[tuple[str, str]] = set()
    for proved in evidence.sorties.values():
        for variant in proved.variants:
            for load in too_much(variant.plan, variant.custody):
                if (load.step.key, load.person) not in seen:
                    seen.add((load.step.key, load.person))
                    yield _carried(proved, variant, load)


def _carried(proved: SortieEvidence, variant: Variant, load: Load) -> Trouble:
    library = proved.library
    limit, words = library.people[load.person].carries, load.gains
    assert limit is not None  # nobody without one carries too much
    assert words is not None
    person = people_words(library, [load.person])
    said = []
    if load.too_many(library):
        names = ", ".join(thing_words(library, name) for name in load.items)
        said.append(f"{len(load.items)} items ({names}), and can carry {limit.items}")
    if load.too_heavy(library) and limit.mass is not None:
        said.append(f"{show_number(load.mass)} kg, and can carry {limit.mass.written}")
    down = next((name for name in load.items if name != words), str(words))
    place = load.step.place
    leaves = f"leaves: {{{down}: {place}}}"
    return Trouble(
        words.position,
        f"By {step_words(library, load.step)} {person} comes to carry {'; '.join(said)}"
        f"{left_out_words(proved, variant)}. Put something down before.",
        (Related(limit.position, f"what {person} can carry"),),
        step_line([load.person], place, f"Put {thing_words(library, down)} down.", "1 min", leaves),
        load.step.step.position,
    )  # fmt: skip
