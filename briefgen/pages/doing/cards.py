"""Cue cards: one person's steps of one sortie as they stand on a card, and the sums at its head."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from briefgen.language.wording import capital, hours, span, steps_words
from briefgen.model.inheritance import hazard_names
from briefgen.model.work import Step, Task
from briefgen.pages.desk import Desk
from briefgen.pages.doing.flows import FlowStep, WaitRow, flow
from briefgen.pages.doing.moments import HoldLine, TravelLine
from briefgen.pages.doing.statements import Statement, carried_by, shared, statement, statements
from briefgen.pages.doing.steps import CallRow, StepRow, step_row
from briefgen.pages.doing.ticks import TickGrid
from briefgen.pages.doing.tools import InHand
from briefgen.pages.planning import margins
from briefgen.pages.planning.deciding import latest_of
from briefgen.pages.planning.stopping_tasks import by_step
from briefgen.pages.rows import Badge, Fact, Link, MarkChip
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.tables.naming import by_minute
from briefgen.units import show_duration, show_elapsed

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
    person) stand only where they are other than in the step before. `clean`: as it ends, the sortie can be stopped
    cleanly.
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


@dataclass(frozen=True)
class CardPiece:
    """A row of a card: a hazard's statement ahead of the steps that it covers, or a step with its hazards' signs."""

    statement: Statement | None = None
    covers: str = ""
    step: CardStep | None = None
    signs: tuple[Statement, ...] = ()


@dataclass(frozen=True)
class CardTask:
    """Steps in a row that belong to one task; `extra` for a task that is done only if time is left.

    `latest` is the moment by which the person must begin their part of it; it and the ways `back` stand where the task
    is first taken up. `clock` is the time of day at which the first of the steps begins.
    """

    task: Link
    priority: Badge
    optional: bool
    extra: bool
    latest: str
    clock: str
    pieces: tuple[CardPiece, ...]
    back: tuple[CardPiece, ...]


@dataclass(frozen=True)
class Card:
    """What one person takes along; `lines` are the sums at its head."""

    anchor: str
    mark: MarkChip
    lines: tuple[tuple[str, str], ...]
    tasks: tuple[CardTask, ...]


def sortie_cards_uri(desk: Desk, sortie: str) -> str:
    """The page that prints a whole sortie. No id ends with a hyphen, and `index` is taken."""
    return f"cards/{'index-' if sortie == 'index' else sortie}"


def person_card_uri(desk: Desk, sortie: str, person: str) -> str:
    """The page of one person's card, a folder below its sortie's, so that no two ids run together."""
    return f"{sortie_cards_uri(desk, sortie)}/{'index-' if person == 'index' else person}"


def starts(case: SortieEvidence) -> datetime | None:
    """When the sortie starts (UTC), if it says so in the form of ISO 8601."""
    try:
        moment = datetime.fromisoformat(str(case.sortie.starts or ""))
    except ValueError:
        return None
    return moment.astimezone(UTC) if moment.tzinfo else moment.replace(tzinfo=UTC)


def clock_time(case: SortieEvidence, seconds: float) -> str:
    """The time of day `seconds` after the start, `08:51 UTC` to the nearest minute; nothing without a start."""
    begin = starts(case)
    if begin is None:
        return ""
    moment = begin + timedelta(seconds=seconds + 30)
    return f"{moment:%H:%M} UTC"


def card(desk: Desk, case: SortieEvidence, person: str) -> Card:
    """A person's card for a sortie."""
    return desk.once(("card", case, person), lambda: _card(desk, case, person))


def _card(desk: Desk, case: SortieEvidence, person: str) -> Card:
    """A person's card: the sums, the steps of their flow in order, then those that are done if time is left."""
    return Card(
        f"card-{person}",
        desk.mark(person),
        tuple(_lines(desk, case, person)),
        (*_tasks(desk, case, person), *_extras(desk, case, person)),
    )


def _lines(desk: Desk, case: SortieEvidence, person: str) -> Iterator[tuple[str, str]]:
    limits = case.sortie.limits
    begin = starts(case)
    if begin:
        yield "Starts", f"{begin:%Y-%m-%d %H:%M} UTC"
    yield "Planned", f"{hours(case.timeline.finish)} h"
    yield "Limit", show_duration(limits.length.likely)
    if limits.reserve:
        yield "Reserve in it", show_duration(limits.reserve.likely)
    if desk.library.people[person].outside:
        yield from margins.of_person(case, person)
        nights = "; ".join(span(dusk, dawn) for dusk, dawn in case.light.nights)
        if nights:
            yield "Night", nights


def _tasks(desk: Desk, case: SortieEvidence, person: str) -> Iterator[CardTask]:
    indices, begun = iter(case.plan.flows.get(person, ())), set[str]()
    for stretch in flow(desk, case, person):
        # The stretches together are the flow, step by step.
        own = [(case.plan.steps[next(indices)], row) for row in stretch.steps]
        task = own[0][0].task
        steps = [_planned(desk, case, person, planned, row) for planned, row in own]
        back = () if task.id in begun else _backs(desk, task, person)
        moment = dict(latest_of(case, str(task.id)).parts)[person]
        latest = "" if task.id in begun or moment < 0 else by_minute(moment)
        begun.add(str(task.id))
        clock = clock_time(case, case.timeline.times[own[0][0].index].start)
        badge = desk.priority(task)
        yield CardTask(stretch.task, badge, task.optional, False, latest, clock, _pieces(steps), back)


def _pieces(steps: Sequence[CardStep], ahead: str = "") -> tuple[CardPiece, ...]:
    """The steps, each hazard stated once ahead of the neighbours that carry it; `ahead` begins what it covers."""
    runs = shared([step.statements for step in steps])
    carried = carried_by(runs)
    pieces: list[CardPiece] = []
    for place, step in enumerate(steps):
        own = carried.get(place, [])
        for run in own:
            if run.steps[0] == place:
                covers = capital(f"{ahead}{steps_words([steps[one].number for one in run.steps])}")
                pieces.append(CardPiece(statement=run.statement, covers=covers))
        pieces.append(CardPiece(step=step, signs=tuple(run.statement for run in own)))
    return tuple(pieces)


def _backs(desk: Desk, task: Task, person: str) -> tuple[CardPiece, ...]:
    """The written ways back in which the person has a part, the last step's first; each bears that step's number."""
    ways = [(found, way) for way in task.undo for found in task.named(way.of.step)[:1]]
    ways.sort(key=lambda one: -task.seat(one[0]))
    return _pieces(
        [
            replace(_unplanned(desk, task, step, person), number=desk.number(task, of))
            for of, way in ways
            if any(person in step.who for step in way.steps)
            for step in way.steps
        ],
        "Taking back ",
    )


def _planned(desk: Desk, case: SortieEvidence, person: str, step: PlannedStep, row: FlowStep) -> CardStep:
    start = case.timeline.times[step.index].start
    on_the_way = row.travel.hazards if row.travel else ()
    carried = {str(one.hazard) for one in step.hazards}
    before = case.plan.previous_for(person, step)
    here = row.travel is not None or (before is not None and before.leads_to == step.place)
    same = before is not None and before.step.restraint == step.step.restraint
    return CardStep(
        desk.number(step.task, step.step),
        row.do,
        row.target,
        row.travel,
        row.holds,
        row.wait,
        (*(statement(desk, name, "On the way") for name in on_the_way if name not in carried), *row.statements),
        row.place.words if row.place and not here else "",
        str(step.step.restraint or "") if not same else "",
        show_elapsed(start),
        row.takes,
        row.others,
        _details(desk, step_row(desk, step.task, step.step), step.step),
        by_step(desk, case)[step.index].clean,
    )


def _extras(desk: Desk, case: SortieEvidence, person: str) -> Iterator[CardTask]:
    """The person's steps of tasks in nobody's flow: described, with no place in time."""
    for name in map(str, case.sortie.get_aheads):
        task = desk.library.tasks[name]
        steps = [_unplanned(desk, task, step, person) for step in task.steps if person in step.who]
        if steps:
            badge, pieces = desk.priority(task), _pieces(steps)
            yield CardTask(desk.link("task", name), badge, task.optional, True, "", "", pieces, ())


def _unplanned(desk: Desk, task: Task, step: Step, person: str) -> CardStep:
    row = step_row(desk, task, step)
    place = step.at or task.place if desk.library.people[person].outside else None
    return CardStep(
        desk.number(task, step),
        row.do,
        desk.links.target("task", str(task.id), step.key),
        None,
        (),
        None,
        statements(desk, hazard_names(desk.library, task, step)),
        desk.link("place", str(place)).words if place else "",
        "",
        "",
        f"{row.takes or row.likely} {row.total}".strip(),
        desk.marks(name for name in step.who if name != person),
        _details(desk, row, step),
    )


def _details(desk: Desk, row: StepRow, step: Step) -> Details:
    return Details(
        tuple(badge for badge in row.badges if badge.value != "critical"),
        next((fact.chips[0].words for fact in row.facts if fact.name == "anchor"), ""),
        (*map(_in_hand, row.tools), *_acted_on(desk, row, step)),
        row.calls,
        row.ticks,
    )


def _acted_on(desk: Desk, row: StepRow, step: Step) -> Iterator[Fact]:
    """The facts of a step that its person acts on; of what it sets, what keeps a hazard controlled."""
    for fact in row.facts:
        chips = fact.chips
        if fact.name == "sets":
            chips = tuple(
                chip for chip, name in zip(chips, step.sets, strict=True) if desk.library.equipment[name].control
            )
        if fact.name in _ON_A_CARD and (chips or fact.words):
            yield replace(fact, head=_ON_A_CARD[fact.name], chips=chips)


def _in_hand(row: InHand) -> Fact:
    """A tool with its setting, and out of which bag it comes."""
    words = f"{row.thing.words} ({row.how})" if row.how else row.thing.words
    return Fact(row.verb, capital(row.verb), words=f"{words} from {row.origin.words}" if row.origin else words)
