"""A step as its person needs it outside, and the rows of a card: hazards ahead of the steps that they cover."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from briefgen.language.wording import capital, steps_words
from briefgen.model.inheritance import hazard_names
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.doing.flows import FlowStep, WaitRow
from briefgen.pages.doing.moments import HoldLine, TravelLine
from briefgen.pages.doing.rounds import RoundsRow
from briefgen.pages.doing.statements import Statement, carried_by, shared, statement, statements
from briefgen.pages.doing.steps import CallRow, StepRow, step_row
from briefgen.pages.doing.ticks import TickGrid
from briefgen.pages.doing.tools import InHand
from briefgen.pages.planning.stopping_tasks import by_step
from briefgen.pages.rows import Badge, Fact, Link, MarkChip
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.units import show_elapsed

# What a person acts on, with its word on a card; the rest of a step's facts is on the task's page.
_ON_A_CARD = {
    "sets": "Sets", "verifies": "Confirms", "spends": "Spends", "fits": "Fit", "leaves": "Leave", "hands": "Hand over",
    "enters": "Get into", "exits": "Get out of", "keeps": "Nobody else at",
}  # fmt: skip


@dataclass(frozen=True)
class Details:
    """What belongs to a step whether or not it has a time; `tether` is the anchor to which it moves."""

    badges: tuple[Badge, ...]
    tether: str
    facts: tuple[Fact, ...]
    calls: tuple[CallRow, ...]
    ticks: TickGrid | None


@dataclass(frozen=True)
class CardStep:
    """A step as its person needs it outside. What comes before it stands in `way`, `holds` and `wait`.

    `do` is the author's text; `elapsed` is empty where the step is not planned; `place` and `held` (what holds the
    person) stand only where they are other than in the step before. `others` do it together with the person, `by` do
    it without. `clean`: as it ends, the sortie can be stopped cleanly.
    """

    number: int
    do: str
    target: str
    way: TravelLine | None
    holds: tuple[HoldLine, ...]
    wait: WaitRow | None
    statements: tuple[Statement, ...]
    place: str
    held: str
    elapsed: str
    takes: str
    others: tuple[MarkChip, ...]
    details: Details
    clean: bool = False
    by: tuple[MarkChip, ...] = ()


@dataclass(frozen=True)
class CardCase:
    """What is done if a step does not go as planned. `when` is the author's text.

    `at` is the step where it is not the person's own; `then` leads on to `goal`; `ends` says when the sortie is over
    then, and what else it costs.
    """

    at: Link | None
    when: str
    pieces: tuple[CardPiece, ...]
    then: str
    goal: Link | None
    ends: str


@dataclass(frozen=True)
class CardPiece:
    """A row of a card: a hazard's statement ahead of what it covers, the head of a block, told once for all its rounds,
    a step with its hazards' signs, or a case.
    """

    statement: Statement | None = None
    covers: str = ""
    step: CardStep | None = None
    signs: tuple[Statement, ...] = ()
    case: CardCase | None = None
    block: RoundsRow | None = None


def pieces(
    steps: Sequence[CardStep],
    ahead: str = "",
    cases: Sequence[tuple[CardCase, ...]] = (),
    blocks: Mapping[int, RoundsRow] = MappingProxyType({}),
) -> tuple[CardPiece, ...]:
    """The steps, each hazard stated once ahead of the neighbours that carry it; `ahead` begins what it covers.

    `cases` are, for each of the steps, those that stand right after it; `blocks` by number those that begin with it.
    """
    runs = shared([step.statements for step in steps])
    carried = carried_by(runs)
    rows: list[CardPiece] = []
    for place, step in enumerate(steps):
        own = carried.get(place, [])
        rows += [CardPiece(block=blocks[place])] if place in blocks else []
        for run in own:
            if run.steps[0] == place:
                covers = capital(f"{ahead}{steps_words([steps[one].number for one in run.steps])}")
                rows.append(CardPiece(statement=run.statement, covers=covers))
        rows.append(CardPiece(step=step, signs=tuple(run.statement for run in own)))
        rows += (CardPiece(case=one) for one in (cases[place] if cases else ()))
    return tuple(rows)


def planned_row(
    context: PageContext, proved: SortieEvidence, person: str, step: PlannedStep, row: FlowStep
) -> CardStep:
    """A step of the person's flow."""
    start = proved.timeline.times[step.index].start
    on_the_way = row.travel.hazards if row.travel else ()
    carried = {str(one.hazard) for one in step.hazards}
    before = proved.plan.previous_for(person, step)
    here = row.travel is not None or (before is not None and before.leads_to == step.place)
    same = before is not None and before.step.restraint == step.step.restraint
    return CardStep(
        context.number(step.task, step.step),
        row.do,
        row.target,
        row.travel,
        row.holds,
        row.wait,
        (*(statement(context, name, "On the way") for name in on_the_way if name not in carried), *row.statements),
        row.place.words if row.place and not here else "",
        str(step.step.restraint or "") if person in step.outside and not same else "",
        show_elapsed(start),
        row.takes,
        row.others,
        _details(context, step_row(context, step.task, step.step), step.step),
        by_step(context, proved)[step.index].clean,
    )


def unplanned_row(context: PageContext, task: Task, step: Step, person: str) -> CardStep:
    """A step that has no place in time: of a task done if time is left, of a way back, of a case."""
    row = step_row(context, task, step)
    mine = person in step.who
    place = step.at or task.place if mine and context.library.people[person].outside else None
    marks = context.marks(name for name in step.who if name != person)
    return CardStep(
        context.number(task, step),
        row.do,
        context.links.target("task", str(task.id), step.key),
        None,
        (),
        None,
        statements(context, hazard_names(context.library, task, step)),
        context.link("place", str(place)).words if place else "",
        "",
        "",
        f"{row.takes or row.likely} {row.total}".strip(),
        marks if mine else (),
        _details(context, row, step),
        by=() if mine else marks,
    )


def _details(context: PageContext, row: StepRow, step: Step) -> Details:
    return Details(
        tuple(badge for badge in row.badges if badge.value != "critical"),
        next((fact.chips[0].words for fact in row.facts if fact.name == "anchor"), ""),
        (*map(_in_hand, row.tools), *_acted_on(context, row, step)),
        row.calls,
        row.ticks,
    )


def _acted_on(context: PageContext, row: StepRow, step: Step) -> Iterator[Fact]:
    """The facts of a step that its person acts on; of what it sets, what keeps a hazard controlled."""
    for fact in row.facts:
        chips = fact.chips
        if fact.name == "sets":
            chips = tuple(
                chip for chip, name in zip(chips, step.sets, strict=True) if context.library.equipment[name].control
            )
        if fact.name in _ON_A_CARD and (chips or fact.words):
            yield replace(fact, head=_ON_A_CARD[fact.name], chips=chips)


def _in_hand(row: InHand) -> Fact:
    """A tool with its setting, and out of which bag it comes."""
    words = f"{row.thing.words} ({row.how})" if row.how else row.thing.words
    return Fact(row.verb, capital(row.verb), words=f"{words} from {row.origin.words}" if row.origin else words)
