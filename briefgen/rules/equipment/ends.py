"""How a sortie leaves the equipment: as it began, as its `ends` allow, or as the sortie says."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.holding.endings import may_end, owes
from briefgen.proof.naming import item_words, step_words
from briefgen.proof.ordering.states import Item
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import map_line, word
from briefgen.rules.shared.races import after_line, left_out_words

_OPEN = "{who: ev1, do: Open it., takes: 2 min, sets: {cover: open}}"
_SHUT = "{who: ev1, do: Shut it., takes: 2 min, sets: {cover: shut}}"


def _look(*steps: str, over: str = "") -> str:
    return (
        f"tasks: {{look: {{title: Look, purpose: To know., place: lock, steps: [\n  {', '.join(steps)}]}}}}\n"
        f"sorties: {{s: {{title: S, flow: {{ev1: [look]}}, limits: {{length: 1 h}}{over}}}}}"
    )


@rule("ends-wrong", Level.ERROR, Needs.ORDER,
      wrong=_look(_OPEN.replace("open}", "▸open}")), right=_look(_OPEN, _SHUT))  # fmt: skip
def ends_wrong(evidence: Evidence) -> Iterator[Trouble]:
    """At the end of a sortie what it changed is as it was in the beginning, or in a state that its `ends` allow.

    What no sortie has changed owes nothing until the last one; what nobody ever brings to an allowed end is told there,
    once. A sortie's own `ends` say what this one in particular must leave behind, whoever changed it.
    What is left in another state on purpose for the next sortie stands in the sortie's `carries_over`, and the next
    one restores it or says so again. A control that was released for the work must be restored like anything else.
    What must end otherwise than it began, and is changed by nobody, was forgotten. The check is repeated with each
    optional task left out, and with all of them left out.
    """
    for proved in evidence.sorties.values():
        reported: set[_Way] = set()
        for variant in proved.variants:
            for way, items in _wrong_items(proved, variant).items():
                if way not in reported:
                    reported.add(way)
                    yield _wrong_end(proved, variant, way[0], items)


_Way = tuple[str, str, tuple[str, ...]]
"""An equipment, the state in which it ends, and the steps that leave it so: another one is another mistake."""


def _wrong_items(proved: SortieEvidence, variant: Variant) -> dict[_Way, list[Item]]:
    """The items that end as they may not, by how that comes; what was wrong before, and is not touched, was told there.

    Where luck decides between allowed states at the end of the last sortie, nothing is wrong.
    """
    wrong: dict[_Way, list[Item]] = {}
    for item, held in variant.states.ends.items():
        if not owes(variant.plan, variant.states, item, proved.is_last):
            continue
        answer = variant.states.endings.get(item)
        if answer is None and _told(proved, item, held.state):
            continue
        if not variant.states.ends_well(item, may_end(proved.plan, item[0]), proved.is_last):
            last = answer.rivals or (() if answer.source is None else (answer.source,)) if answer else ()
            way = item[0], held.state, tuple(variant.plan.steps[index].key for index in last)
            wrong.setdefault(way, []).append(item)
    return wrong


def _told(proved: SortieEvidence, item: Item, state: str) -> bool:
    """Whether an item that nobody touched since was told in a sortie before."""
    while (before := proved.before) is not None:
        if owes(before.plan, before.states, item, last=False) and state not in may_end(before.plan, item[0]):
            return True
        if item in before.states.endings:
            return False
        proved = before
    return False


def _wrong_end(proved: SortieEvidence, variant: Variant, name: str, items: list[Item]) -> Trouble:
    record, left_out = proved.library.equipment[name], left_out_words(proved, variant)
    which = item_words(proved.library, items[0]) + (f" (and {len(items) - 1} more)" if len(items) > 1 else "")
    wanted = " or ".join(f"“{one}”" for one in sorted(may_end(proved.plan, name)))
    answer = variant.states.endings.get(items[0])
    if answer is None or answer.source is None:
        state = variant.states.ends[items[0]].state
        return Trouble(
            record.id.position,
            f"{which} is “{state}” when “{proved.sortie.title}” begins, and no step changes that{left_out}; at the end "
            f"it must be {wanted}. Write the step, or say in “carries_over” that it is left for later.",
            (Related(proved.sortie.id.position, f"“{proved.sortie.title}”"),),
            _all_carried(proved, variant),
            proved.sortie.spot("carries_over"),
        )  # fmt: skip
    source = variant.plan.steps[answer.source]
    state = next(words for key, words in source.step.sets.items() if key == name)
    if answer.rivals:
        other = variant.plan.steps[answer.rivals[1]]
        line, spot = after_line(source, other)
        return Trouble(
            state.position,
            f"How {which} ends is luck: nothing orders {step_words(proved.library, source)} and "
            f"{step_words(proved.library, other)}{left_out}.",
            (Related(other.step.position, "this sets it, too"),), line, spot,
        )  # fmt: skip
    return Trouble(
        state.position,
        f"{which} is left “{answer.value}” by {step_words(proved.library, source)}; at the end it must be {wanted}"
        f"{left_out}. Restore it in a step after this one, or say in “carries_over” that it is left for later.",
        (Related(record.id.position, "its ends are written here"),),
        f"sets: {{{name}: {word(min(may_end(proved.plan, name)))}}}  # in a step after this one",
    )


def _all_carried(proved: SortieEvidence, variant: Variant) -> str:
    """One line for everything that ends otherwise and is changed by nobody: each finding gives the same."""
    untouched = {
        name: variant.states.ends[items[0]].state
        for (name, _, steps), items in _wrong_items(proved, variant).items()
        if not steps
    }
    *others, last = untouched.items()
    return map_line("carries_over", [*proved.sortie.carries_over.items(), *others], *last)


@rule("carried-over-otherwise", Level.ERROR, Needs.ORDER,
      wrong=_look("{who: ev1, do: Look., takes: 2 min}", over=", carries_over: {cover: ▸open}"),
      right=_look(_OPEN, over=", carries_over: {cover: open}"))  # fmt: skip
def carried_over_otherwise(evidence: Evidence) -> Iterator[Trouble]:
    """What a sortie says that it leaves over is what it leaves.

    The next sortie relies on it. For an equipment with parts, at least one item must be left in that state.
    """
    for proved in evidence.sorties.values():
        for name, state in proved.sortie.carries_over.items():
            record = proved.library.equipment.get(name)
            ends = {proved.states.ends[name, item].state for item in record.items} if record else set()
            if record and state not in ends:
                yield Trouble(
                    state.position, f"{record.label_text} is said to be left “{state}”, but “{proved.sortie.title}” "
                    f"ends with it “{' / '.join(sorted(ends))}”.", write=f"{name}: {word(min(ends))}",
                )  # fmt: skip
