"""Whatever anything names must exist: records, states, settings, steps, parts, callouts, and links in texts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from difflib import get_close_matches

from briefgen.findings import Level
from briefgen.model.base import Record
from briefgen.model.library import KINDS, SINGULAR
from briefgen.model.references import references_of, step_references_of, text_links_of
from briefgen.model.sights import Figure
from briefgen.model.things import Equipment, Tool
from briefgen.model.work import Sortie, Step, Task
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, all_rules, rule
from briefgen.source import Position, Ref, StepRef, Text


def hint(word: str, known: Iterable[str]) -> str:
    """The end of a sentence: the nearest known word, or all of them where there are few."""
    names = sorted(map(str, known))
    close = get_close_matches(word, names, n=1, cutoff=0.5)
    if close:
        return f" Did you mean “{close[0]}”?"
    return f" Known: {', '.join(names)}." if 0 < len(names) <= 8 else ""


def _near(word: str, known: Iterable[str]) -> str:
    close = get_close_matches(word, sorted(map(str, known)), n=1, cutoff=0.5)
    return close[0] if close else ""


def _singular(kinds: Iterable[str]) -> str:
    return " or ".join(KINDS[kind].singular for kind in kinds)


@rule(
    "unknown-reference", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      open-cover: {title: Open, purpose: To see inside., place: ▸k9, steps: [{who: ev1, do: Open it., takes: 2 min}]}
    sorties: {s: {title: S, flow: {ev1: [open-cover]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      open-cover: {title: Open, purpose: To see inside., place: lock, steps: [{who: ev1, do: Open it., takes: 2 min}]}
    sorties: {s: {title: S, flow: {ev1: [open-cover]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_reference(evidence: Evidence) -> Iterator[Trouble]:
    """Every id that a record names stands for a record of the right kind.

    A misspelt id would leave a hole in the briefing: a tool that nobody packs, a hazard that is never printed.
    """
    for _, record in evidence.library.every():
        for ref in references_of(record):
            yield from _unknown(evidence, ref)


def _unknown(evidence: Evidence, ref: Ref) -> Iterator[Trouble]:
    kinds = [SINGULAR.get(kind, kind) for kind in ref.kinds]
    unknown_kinds = [kind for kind in kinds if kind not in KINDS]
    if unknown_kinds:
        yield Trouble(ref.position, f"“{unknown_kinds[0]}” is no kind of record.{hint(unknown_kinds[0], SINGULAR)}")
    elif not any(evidence.knows(kind, ref) for kind in kinds):
        known = [name for kind in kinds for name in evidence.library.of(kind)]
        yield Trouble(
            ref.position, f"There is no {_singular(kinds)} “{ref}”.{hint(ref, known)}", write=_near(ref, known)
        )
    elif ref.part:
        yield from _unknown_part(evidence, ref, kinds)


def _unknown_part(evidence: Evidence, ref: Ref, kinds: list[str]) -> Iterator[Trouble]:
    record = next((found for kind in kinds if (found := evidence.library.find(kind, ref))), None)
    if isinstance(record, Figure) and ref.part not in record.callouts:
        yield Trouble(ref.position, f"Figure “{ref}” has no callout “{ref.part}”.{hint(ref.part, record.callouts)}")
    elif isinstance(record, Task) and record.step(ref.part) is None:
        yield Trouble(ref.position, f"Task “{ref}” has no step “{ref.part}”.{hint(ref.part, _step_names(record))}")
    elif record is not None and not isinstance(record, (Figure, Task)):
        yield Trouble(ref.position, f"Only tasks and figures have parts to link to; “{ref}” is neither.")


def _step_names(task: Task) -> list[str]:
    return [step.key for step in task.steps]


@rule(
    "unknown-step", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps:
          - {id: see, who: ev1, do: Look at it., takes: 2 min}
          - {who: ev2, do: Look again., takes: 2 min, after: [▸look/sea]}
    sorties: {s: {title: S, flow: {ev1: [look], ev2: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps:
          - {id: see, who: ev1, do: Look at it., takes: 2 min}
          - {who: ev2, do: Look again., takes: 2 min, after: [look/see]}
    sorties: {s: {title: S, flow: {ev1: [look], ev2: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_step(evidence: Evidence) -> Iterator[Trouble]:
    """Every step that `after` or a flow names exists.

    Somebody would wait for a step that nobody does, or go on without one that was meant.
    """
    for _, record in evidence.library.every():
        for ref in step_references_of(record):
            yield from _unknown_step(evidence, ref)


def _unknown_step(evidence: Evidence, ref: StepRef) -> Iterator[Trouble]:
    if not evidence.knows("tasks", ref.task):
        known = evidence.library.tasks
        yield Trouble(
            ref.position, f"There is no task “{ref.task}”.{hint(ref.task, known)}", write=_near(ref.task, known)
        )
        return
    task = evidence.library.tasks.get(ref.task)
    if task and ref.step and task.step(ref.step) is None:
        yield Trouble(
            ref.position, f"Task “{task.title}” has no step “{ref.step}”.{hint(ref.step, _step_names(task))}",
            write=_near(ref.step, _step_names(task)) and f"{ref.task}/{_near(ref.step, _step_names(task))}",
        )  # fmt: skip


@rule(
    "broken-link", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: Look through [the driver's window](▸tool:drivr).
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: Look through [the driver's window](tool:driver).
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def broken_link(evidence: Evidence) -> Iterator[Trouble]:
    """Every `kind:id` link in a text leads to a record, a step or a callout.

    A link that leads nowhere costs the reader's trust in all the others.
    """
    for _, record in evidence.library.every():
        seen: Counter[str] = Counter()
        for ref in text_links_of(record):
            words = f"{ref.kinds[0]}:{ref}"
            start = evidence.place_of_words(words, record.id.position, seen[words])
            seen[words] += 1
            yield from _unknown(evidence, Ref(str(ref), start, ref.kinds, ref.part))


@rule(
    "broken-callout", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    figures:
      front: {file: front.svg, alt: The front., callouts: {one: {at: [10 %, 20 %], shows: ▸tool:drivr}}}
    """,
    right="""
    figures:
      front: {file: front.svg, alt: The front., callouts: {one: {at: [10 %, 20 %], shows: tool:driver}}}
    """,
)  # fmt: skip
def broken_callout(evidence: Evidence) -> Iterator[Trouble]:
    """A callout that shows a record (`kind:id`) shows one that exists, and lies on the picture.

    A number that points at nothing, or next to the picture, teaches the wrong thing.
    """
    for figure in evidence.library.figures.values():
        for name, callout in figure.callouts.items():
            kind, colon, rest = callout.shows.partition(":")
            if colon and kind in SINGULAR and " " not in rest:
                identifier, _, part = rest.partition("#")
                yield from _unknown(evidence, Ref(identifier, callout.shows.position, (kind,), part))
            if not all(0 <= share <= 1 for share in callout.at):
                yield Trouble(
                    name.position,
                    f"Callout “{name}” lies off the picture “{figure.label_text}”: "
                    "both numbers of “at” run from 0 % to 100 %.",
                )


@rule(
    "unknown-state", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, requires: {feed: ▸of}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, requires: {feed: on}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_state(evidence: Evidence) -> Iterator[Trouble]:
    """Every state that is required, set, verified or expected is one that the equipment can be in.

    A misspelt state can never come true, so the step that waits for it could never be done.
    """
    equipment = evidence.library.equipment
    for name, state in _named_states(evidence):
        record = equipment.get(name)
        if record and state not in record.states:
            yield Trouble(
                state.position, f"“{state}” is no state of {record.label_text}.{hint(state, record.states)}",
                write=_near(state, record.states),
            )  # fmt: skip


def _named_states(evidence: Evidence) -> Iterator[tuple[str, Text]]:
    library = evidence.library
    for task in library.tasks.values():
        for step in task.steps:
            for named in (step.requires, step.sets, step.verifies):
                yield from named.items()
    for hazard in library.hazards.values():
        yield from hazard.controls.items()
    for record in library.equipment.values():
        yield record.id, record.starts
        yield from ((record.id, state) for state in record.ends if state != "any")
    for sortie in library.sorties.values():
        yield from ((name, state) for name, state in sortie.carries_over.items() if name in library.equipment)


@rule(
    "unknown-part", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, each: {equipment: plates, where: {plate: [▸z]}}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look., takes: 2 min, each: {equipment: plates, where: {plate: [a]}}}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_part(evidence: Evidence) -> Iterator[Trouble]:
    """`each` names an equipment that has `parts`, and `where` only parts and names that it has.

    An item that does not exist would be counted and never found.
    """
    for task in evidence.library.tasks.values():
        for step in task.steps:
            record = evidence.library.equipment.get(step.each.equipment) if step.each else None
            if record:
                yield from _unknown_parts(step, record)


def _unknown_parts(step: Step, record: Equipment) -> Iterator[Trouble]:
    assert step.each is not None
    if not record.parts:
        yield Trouble(
            step.each.equipment.position,
            f"{record.label_text} has no “parts”, so there is nothing to count.",
            write="parts: {number: [1, 2]}",
            write_at=record.position,
        )
    for part, names in step.each.where.items():
        if part not in record.parts:
            yield Trouble(part.position, f"{record.label_text} has no part “{part}”.{hint(part, record.parts)}")
            continue
        for name in names:
            if name not in record.parts[part]:
                yield Trouble(
                    name.position, f"{record.label_text} has no {part} “{name}”.{hint(name, record.parts[part])}"
                )


@rule(
    "unknown-setting", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    tasks:
      turn:
        title: Turn
        purpose: To open it.
        place: lock
        steps: [{who: ev1, do: Turn it., takes: 2 min, with: [{driver: ▸losen}]}]
    sorties: {s: {title: S, flow: {ev1: [turn]}, limits: {length: 1 h}}}
    """,
    right="""
    tasks:
      turn:
        title: Turn
        purpose: To open it.
        place: lock
        steps:
          - {who: ev1, do: Take the driver., takes: 1 min, picks: [driver]}
          - {who: ev1, do: Turn it., takes: 2 min, with: [{driver: loosen}]}
          - {who: ev1, do: Put it back., takes: 1 min, leaves: {driver: lock}}
    sorties: {s: {title: S, flow: {ev1: [turn]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unknown_setting(evidence: Evidence) -> Iterator[Trouble]:
    """Every setting that a step names is one of the tool's `settings`.

    The wrong number of turns or the wrong torque strips a bolt.
    """
    for task in evidence.library.tasks.values():
        for use in (use for step in task.steps for use in step.uses if use.setting is not None):
            thing = evidence.library.thing(use.tool)
            settings = thing.settings if isinstance(thing, Tool) else {}
            if thing and use.setting is not None and use.setting not in settings:
                yield Trouble(
                    use.setting.position,
                    f"{thing.label_text} has no setting “{use.setting}”.{hint(use.setting, settings)}",
                )


@rule(
    "carried-to-nowhere", Level.ERROR, Needs.RECORDS,
    wrong="""
    tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, carries_over: {driver: ▸k9}}}
    """,
    right="""
    tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, carries_over: {driver: lock}}}
    """,
)  # fmt: skip
def carried_to_nowhere(evidence: Evidence) -> Iterator[Trouble]:
    """What `carries_over` says of a tool or bag is a place or a bag.

    The next sortie would look for it where nobody could have left it.
    """
    library = evidence.library
    for sortie in library.sorties.values():
        for name, spot in sortie.carries_over.items():
            known = [*library.places, *library.bags]
            if library.thing(name) and spot not in known:
                yield Trouble(spot.position, f"There is no place or bag “{spot}”.{hint(spot, known)}")


@rule(
    "unknown-rule", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    places:
      k7: {name: K7, accepts: [{finding: ▸needles-wait, because: It is quiet there.}]}
    """,
    right="""
    places:
      k7: {name: K7, accepts: [{finding: needless-wait, because: It is quiet there.}]}
    """,
)  # fmt: skip
def unknown_rule(evidence: Evidence) -> Iterator[Trouble]:
    """`accepts` names a rule that exists, and one whose findings can be accepted.

    A misspelt name would accept nothing, and nobody would see why the finding stays. What keeps the plan from being
    proved can't be accepted: everything else that is wrong would be hidden with it.
    """
    for _, record in evidence.library.every():
        for acceptance in record.accepts:
            known = all_rules().get(acceptance.finding)
            if known is None:
                yield Trouble(
                    acceptance.finding.position,
                    f"There is no rule “{acceptance.finding}”.{hint(acceptance.finding, all_rules())}",
                )
            elif known.spoils:
                yield Trouble(
                    acceptance.finding.position,
                    f"“{acceptance.finding}” can't be accepted: while it is found, nothing of the plan can be proved. "
                    "Mend what it finds, and take this out.",
                )


def _entry(record: Record) -> Position:
    return record.id.position


@rule(
    "one-programme", Level.ERROR, Needs.RECORDS,
    wrong="""
    programme:
      ▸second: {title: Two, sorties: [s], paces: {outside: 9 m/min, loaded: 5 m/min}}
    """,
    right="""
    tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def one_programme(evidence: Evidence) -> Iterator[Trouble]:
    """A library has one programme: it says which sorties are run, and in which order.

    Each sortie begins with the world as the one before left it, so there must be one order.
    """
    programmes = list(evidence.library.of("programme").values())
    for extra in programmes[1:]:
        yield Trouble(
            _entry(extra), f"“{extra.id}” is a second programme; “{programmes[0].id}” is the first. Keep one."
        )
    broken = any(kind == "programme" for kind, _ in evidence.broken)
    if not programmes and not broken:
        first: Sortie | None = next(iter(evidence.library.sorties.values()), None)
        spot = first.position if first else Position(next(iter(evidence.sources), ""), 1, 1)
        yield Trouble(
            spot,
            "There is no programme: it says which sorties are run, in which order, and how fast people move.",
            write="programme: {name: {title: …, sorties: […], paces: {…}}}",
        )


@rule(
    "one-home", Level.ERROR, Needs.RECORDS,
    wrong="""
    places:
      ▸k8: {home: true}
    """,
    right="""
    places:
      k8: {home: false}
    """,
)  # fmt: skip
def one_home(evidence: Evidence) -> Iterator[Trouble]:
    """Exactly one place is home: there every sortie starts and ends.

    All ways home, and the tethers, are counted from it.
    """
    homes = [place for place in evidence.library.places.values() if place.home]
    for extra in homes[1:]:
        yield Trouble(
            _entry(extra), f"{extra.label_text} is a second home; {homes[0].label_text} is the first. Keep one."
        )
    if not homes and evidence.library.places and not any(kind == "places" for kind, _ in evidence.broken):
        first = next(iter(evidence.library.places.values()))
        yield Trouble(_entry(first), "No place is home: mark the one where sorties start and end.", write="home: true")
