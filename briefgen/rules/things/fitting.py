"""What is fitted somewhere: in one place at a time, and loose before anybody carries it away."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.model.things import Tool
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.holding.fitting import Stuck, still_fitted
from briefgen.proof.naming import item_words, step_words, thing_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import map_line
from briefgen.rules.shared.races import after_line, left_out_words
from briefgen.rules.ways.travelled import flight, place_words
from briefgen.source import Text

_PUMP = """
tools: {pump: {name: Pump, stowed: k2, fitted_as: {seat: bolted}}}
equipment: {seat: {name: Seat, place: k2, states: [bolted, free], starts: bolted, ends: any}}
"""
_LOOSEN = "    id: loosen, who: ev1, at: k2, do: Take the bolts out., takes: 2 min, sets: {seat: free}\n"
_TAKE = """
    who: ev1, at: k2, do: Draw the pump out., takes: 2 min, picks: [▸pump]
    who: ev1, at: lock, do: Bring it in., takes: 2 min, leaves: {pump: lock}
"""


@rule("still-fitted", Level.ERROR, Needs.ORDER,
      wrong=_PUMP + flight(_TAKE), right=_PUMP + flight(_LOOSEN + _TAKE.replace("▸", "").lstrip("\n")))  # fmt: skip
def thing_still_fitted(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody takes a thing that is fitted somewhere before it is loose.

    While the equipment of its `fitted_as` is in the state that stands there, the thing is held by bolts or latches:
    whoever draws at it draws themselves out of place. A step before sets another state, in every order; or the step
    that takes it does so itself. The check is repeated with the optional tasks left out.
    """
    seen: set[tuple[str, str]] = set()
    for proved in evidence.sorties.values():
        for variant in proved.variants:
            for stuck in still_fitted(variant.plan, variant.states):
                key = stuck.step.key, str(stuck.words)
                if key not in seen:
                    seen.add(key)
                    yield _still(proved, variant, stuck)


def _still(proved: SortieEvidence, variant: Variant, stuck: Stuck) -> Trouble:
    library, answer = proved.library, stuck.answer
    steps = [variant.plan.steps[one] for one in (*answer.racing, *answer.rivals)]
    item, thing = item_words(library, stuck.item), thing_words(library, stuck.words)
    taken = f"{step_words(library, stuck.step)} takes {thing}, which is fitted while {item} is “{stuck.state}”"
    related = tuple(Related(step.step.position, "this sets it") for step in steps)
    if not answer.certain:
        line, spot = after_line(steps[0], stuck.step) if answer.racing else after_line(*steps[:2])
        words = f"{taken}; how it is then is luck{left_out_words(proved, variant)}."
        return Trouble(stuck.words.position, words, related, line, spot)
    record = library.equipment[stuck.item[0]]
    other = next((str(state) for state in record.states if state != stuck.state), "…")
    return Trouble(
        stuck.words.position,
        f"{taken}, and so it still is then{left_out_words(proved, variant)}. Set another state in a step before it.",
        (Related(library.tools[stuck.words].spot("fitted_as"), "fitted so"),),
        map_line("sets", (), stuck.item[0], other) + "  # in a step before this one",
    )


@rule("fitted-at-odds", Level.ERROR, Needs.REFERENCES,
      wrong=_PUMP.replace("stowed: k2", "stowed: lock").replace("{seat: b", "{▸seat: b"), right=_PUMP)  # fmt: skip
def fitted_at_odds(evidence: Evidence) -> Iterator[Trouble]:
    """A thing is fitted in one place at a time, and nothing else is fitted there.

    In the beginning it is stowed where it is fitted. Two things in one place, or one in two, would leave the crew with
    empty hands, or with one thing too many. It is one single tool, and the equipment one single item.
    """
    library = evidence.library
    first: dict[tuple[str, str], str] = {}
    for name, tool in library.tools.items():
        fitted = [(one, state) for one, state in tool.fitted_as.items() if library.equipment[one].starts == state]
        for equipment, state in tool.fitted_as.items():
            other = first.setdefault((str(equipment), str(state)), name)
            sentence = _odds(evidence, tool, equipment, state) or (
                f"{thing_words(library, other)} is fitted there, too: give each a state of its own."
                if other != name else ""
            ) or (
                f"In the beginning {tool.label_text} would be fitted in two places."
                if (equipment, state) in fitted[1:] else ""
            )  # fmt: skip
            if sentence:
                record = library.equipment[equipment]
                line = map_line("fitted_as", (), *fitted[0]) if (equipment, state) in fitted[1:] else ""
                yield Trouble(equipment.position, sentence, (Related(record.position, record.label_text),), line)
    yield from _left_elsewhere(evidence)


def _odds(evidence: Evidence, tool: Tool, equipment: Text, state: Text) -> str:
    """What does not go together between a thing and one place for it."""
    library = evidence.library
    record = library.equipment[equipment]
    if tool.consumable:
        return f"{tool.label_text} are {tool.count}, and only a single thing is fitted: leave “fitted_as” out."
    if record.parts:
        return f"{record.label_text} has many items: make the one where {tool.label_text} is fitted an equipment."
    if record.starts == state and record.place is not None and tool.stowed != record.place:
        here = place_words(library, record.place)
        return (
            f"{record.label_text} begins “{state}”, so {tool.label_text} is fitted at {here} in the beginning, but is "
            f"stowed elsewhere. Write “stowed: {record.place}”, or let the equipment start in another state."
        )
    return ""


def _left_elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    """Steps that fit a thing and say that they leave it in a bag, or hand it on."""
    library = evidence.library
    for task in library.tasks.values():
        for step in task.steps:
            for thing, goal in (*step.leaves.items(), *step.hands.items()):
                tool = library.tools.get(thing)
                fits = [one for one, state in (tool.fitted_as if tool else {}).items() if step.sets.get(one) == state]
                if fits and goal not in library.places:
                    label = library.equipment[fits[0]].label_text
                    yield Trouble(
                        goal.position,
                        f"Step “{step.key}” of “{task.title}” fits {thing_words(library, thing)} by setting {label}, "
                        "and cannot leave it elsewhere as well.",
                    )
