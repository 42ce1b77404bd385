"""The day as it goes, for a page: all that its script computes with, and tables for chosen moments without a script."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from typing import Any

from briefgen.language.wording import listing
from briefgen.pages.context import PageContext
from briefgen.pages.planning.packed import named_once, packed
from briefgen.proof.deciding.serving import served
from briefgen.proof.deciding.underway.case_times import case_times
from briefgen.proof.deciding.underway.day import Day, ReducedPlan
from briefgen.proof.deciding.underway.document import document, stop_data
from briefgen.proof.deciding.underway.situation import Progress, Situation
from briefgen.proof.deciding.underway.turning import stops_ahead
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.gates import Gate
from briefgen.tables.case_words import then_words
from briefgen.tables.table import Column, Table, cells, numbers
from briefgen.units import HOUR, MINUTE, show_duration, show_elapsed

SEARCHES = 400
"""So many stops of a sortie are searched for its page, those nearest to the plan; the terminal answers for all."""
LATE = 25 * MINUTE
"""How late everybody is in the table without a script, in seconds."""


def script_data(context: PageContext, day: Day) -> dict[str, Any]:
    """What the script needs: numbers in seconds, people and steps by number, words as they are shown."""
    people = list(day.flows)
    found = {
        "people": named_once({"id": one, "name": context.mark(one).name, "free": one in day.free} for one in people),
        "flows": [[*day.flows[one]] for one in people],
        "steps": named_once(_steps(context, day, people)),
        "tasks": {task: context.label("task", task) for task in day.begins},
        "begins": {**day.begins},
        "optional": [*day.proved.plan.optional_tasks],
        "serves": {task: sorted(row) for task in sorted(day.proved.evidence.flown) if (row := _served(day, task))},
        "units": [[*unit] for unit in day.units],
        "variants": [_variant(one, people) for one in day.variants.values()],
        "gates": {index: _gate(one) for index, one in day.gates.items()},
        "nights": [[*night] for night in day.nights],
        "supplies": named_once(_supplies(day, people)),
        "wayWatts": day.way_watts,
        "restWatts": day.rest_watts,
        "homes": {
            person: [[_finite(one.after), _finite(one.longest), _finite(one.back)] for one in row]
            for person, row in day.homes.items()
        },
        "cases": [*_cases(context, day, people)],
        "finish": day.finish,
        "usable": day.usable,
        "length": day.length,
        **_stops(context, day),
    }
    return {key: packed(value) for key, value in found.items()}


def _gate(gate: Gate) -> dict[str, Any]:
    """Without openings: a moment."""
    openings = {"openings": [*gate.openings], "end": gate.end} if gate.event else {}
    return {"earliest": gate.earliest, **openings}


def _served(day: Day, task: str) -> frozenset[str]:
    return served(day.proved.library.tasks, day.proved.evidence.flown, task)


def _steps(context: PageContext, day: Day, people: list[str]) -> Iterator[dict[str, Any]]:
    for one, step, quiet in zip(day.steps, day.proved.plan.steps, day.quiet, strict=True):
        yield {
            "key": one.key,
            "words": context.texts.plain(step.step.told).rstrip("."),
            "task": one.task,
            "people": [people.index(who) for who in one.people],
            "seconds": one.seconds,
            "start": one.start,
            "end": one.end,
            "watts": one.watts,
            "light": one.needs_light,
            "earlier": [*one.earlier],
            "quiet": quiet,
        }


def _supplies(day: Day, people: list[str]) -> Iterator[dict[str, Any]]:
    for one in day.supplies:
        yield {
            "person": people.index(one.person),
            "name": one.name,
            "unit": one.unit,
            "factor": one.factor,
            "keeps": one.keeps,
            "holds": one.holds,
            "second": one.per_second,
            "joule": one.per_joule,
            "mean": one.mean_watts,
            "left": [[*point] for point in one.left],
        }


def _cases(context: PageContext, day: Day, people: list[str]) -> Iterator[dict[str, Any]]:
    for one in case_times(day.proved):
        proof = one.proof
        within = {*proof.step.people, *(who for step, _, _ in one.steps for who in step.people)}
        yield {
            "step": proof.step.index,
            "when": context.texts.plain(str(proof.case.when)),
            "people": sorted(people.index(who) for who in within if who in people),
            "steps": [
                {
                    **_said(context, step),
                    "begins_s": begins,
                    "ends_s": ends,
                }
                for step, begins, ends in one.steps
            ],
            "seconds": one.seconds,
            "then": then_words(context.library, proof.case),
            "skipped": [step.index for step in proof.skipped],
            "later_s": proof.later,
        }


def case_choices(context: PageContext, day: Day) -> tuple[str, ...]:
    """What can be chosen to go wrong: each case, in the order of `cases`."""
    plain = context.texts.plain
    rows = (one.proof for one in case_times(day.proved))
    return tuple(f"{plain(str(one.step.step.do)).rstrip('.')}: {plain(str(one.case.when))}" for one in rows)


def _variant(one: ReducedPlan, people: list[str]) -> dict[str, Any]:
    return {
        "left": sorted(one.left_out),
        "sequence": [*one.sequence],
        "chains": [[[*pair] for pair in one.chains.get(person, ())] for person in people],
        "links": [[*link] for link in one.links],
        "latest": [one.latest.get(index) for index in range(1 + max(one.latest, default=-1))],
    }


def _stops(context: PageContext, day: Day) -> dict[str, Any]:
    """The stops that are searched ahead, each once, and which combination of finished steps leads to which.

    What they leave open and what closes it is named by its place in `opens` and `closers`.
    """
    rows: dict[str, int] = {}
    cuts: dict[str, int] = {}
    opens: dict[str, int] = {}
    closers: dict[str, int] = {}
    for cut, stop in stops_ahead(day, SEARCHES):
        found = stop_data(day, stop)
        found["open"] = [opens.setdefault(json.dumps(one), len(opens)) for one in found["open"]]
        found["closing"] = [
            [closers.setdefault(one["step"], len(closers)), one["begins_s"], one["ends_s"]] for one in found["closing"]
        ]
        cuts[" ".join(map(str, cut))] = rows.setdefault(json.dumps(found), len(rows))
    said = {step.key: _said(context, step) for step in day.caller.book.steps if step.key in closers}
    return {
        "cuts": cuts,
        "stops": named_once(map(json.loads, rows)),
        "opens": named_once(map(json.loads, opens)),
        "closers": [*closers],
        "back": said,
    }


def _said(context: PageContext, step: PlannedStep) -> dict[str, str]:
    """A step of a way back: who does it, and what."""
    who = listing([context.mark(one).name for one in step.people])
    return {"who": who, "words": context.texts.plain(step.step.told).rstrip(".")}


def _finite(seconds: float) -> float | None:
    return seconds if math.isfinite(seconds) else None


def moments_table(context: PageContext, day: Day) -> Table:
    """What follows at chosen moments if everybody is late by the same."""
    heads = ("End", "Late", "Immediate return", "Orderly stop")
    columns = (Column("Elapsed"), *numbers(*heads), Column("Leave out"), Column("No longer fits"))
    rows = tuple(_moment(context, document(day, one)) for one in late_situations(day))
    title = f"If everybody is {show_duration(LATE)} late: what follows at chosen moments"
    return Table("moments", title, columns, rows)


def late_situations(day: Day) -> Iterator[Situation]:
    """The situations of that table: every hour of the plan, so much later."""
    for hour in range(1, math.ceil(day.finish / HOUR)):
        yield late_by(day, hour * HOUR, LATE)


def late_by(day: Day, at: float, late: float) -> Situation:
    """Everything as planned until a moment of the plan, but all of it later by some seconds."""
    ended = {person: [day.steps[one].end for one in flow] for person, flow in day.flows.items()}
    over = {person: [end for end in row if end <= at] for person, row in ended.items()}
    return Situation(
        at + late,
        {person: Progress(len(row), max(row, default=0.0) + (late if row else 0.0)) for person, row in over.items()},
    )


def _moment(context: PageContext, its: Mapping[str, Any]) -> tuple[Any, ...]:
    home = its["home"]
    bare = list(home["bare_s"].values())
    out = [context.label("task", task) for one in its["omissions"] if not one["why_not"] for task in one["tasks"]]
    unfit = [context.label("task", one["task"]) for one in its["due"] if not one["fits"]]
    return cells(
        show_elapsed(its["now_s"]),
        show_elapsed(its["finish_s"]),
        show_duration(its["late_s"]),
        "no way home" if None in bare else show_duration(max(bare, default=0.0)),
        "no way leads back" if home["all_s"] is None else show_duration(home["all_s"]),
        listing(out) or "nothing",
        listing(unfit) or "all fits",
    )
