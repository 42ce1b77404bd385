"""The demo: rich enough to need everything, free of findings, and every misspelt id is found where it stands."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import Path
from typing import Any, get_args

import pytest
import yaml
from pydantic import BaseModel

from briefgen.build import examine
from briefgen.expansion.whoever import ROLES
from briefgen.findings import Level
from briefgen.model.fields.base import Record
from briefgen.model.fields.references import references_of, step_references_of, text_links_of
from briefgen.model.fields.values import PREVIOUS
from briefgen.model.library import KINDS
from briefgen.model.steps import Case, Confirmation, Step
from briefgen.model.tasks import Block, Defaults, Undo
from briefgen.proof.evidence import SortieEvidence
from briefgen.source import Position
from tests.demo import CONTENT, demo

SORTIES = list(demo().evidence.sorties.values())


def test_nothing_is_wrong_with_the_demo() -> None:
    assert [f"{finding.position} {finding.rule}: {finding.sentence}" for finding in demo().findings] == []
    assert demo().proved


@pytest.mark.parametrize(
    ("kind", "least"),
    [("sorties", 2), ("tasks", 15), ("tools", 25), ("bags", 5), ("places", 20), ("equipment", 40), ("figures", 12),
     ("outcomes", 12), ("questions", 25), ("people", 4), ("suits", 2), ("hazards", 5), ("terms", 10), ("routes", 20)],
)  # fmt: skip
def test_the_demo_is_rich_enough(kind: str, least: int) -> None:
    assert len(demo().library.of(kind)) >= least


def test_the_demo_has_steps_enough() -> None:
    assert sum(len(task.steps) for task in demo().library.tasks.values()) >= 150


def _parts_in(annotation: Any) -> Iterator[type[BaseModel]]:
    """The parts of the format that a field's type names."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for within in get_args(annotation):
        yield from _parts_in(within)


def _format() -> set[type[BaseModel]]:
    """Every part of the format: the records of all kinds as written, and whatever their fields are made of."""
    found: set[type[BaseModel]] = set()
    left: list[type[BaseModel]] = [kind.model for kind in KINDS.values()]
    while left:
        part = left.pop()
        if part not in found:
            found.add(part)
            left += [one for field in part.model_fields.values() for one in _parts_in(field.annotation)]
    return found


def _said(value: Any) -> Iterator[tuple[type[BaseModel], str]]:
    """Every key below a value that says something, with the part of the format to which it belongs."""
    if isinstance(value, BaseModel):
        for name, field in type(value).model_fields.items():
            inner = getattr(value, name)
            if inner != field.get_default(call_default_factory=True, validated_data={}):
                yield type(value), name
                yield from _said(inner)
    elif isinstance(value, Mapping | tuple | list):
        for inner in value.values() if isinstance(value, Mapping) else value:
            yield from _said(inner)


# Keys that a step has, too, mean the same in these; a block's `where` is that of its `each`.
AS_IN_A_STEP = {
    Defaults: {*Step.model_fields},
    Confirmation: {*Step.model_fields},
    Block: {*Step.model_fields, "where"},
}


def test_every_part_of_the_format_is_used() -> None:
    said = {pair for _, record in demo().evidence.written.every() for pair in _said(record)}
    used = {part for part, _ in said}
    assert {part.__name__ for part in _format() - used} == set()
    assert {Block, Case, Undo, Defaults, Confirmation} < _format()
    unused = {
        f"{part.__name__}.{name}"
        for part in used
        for name in {*part.model_fields} - AS_IN_A_STEP.get(part, set())
        if (part, name) not in said and not (issubclass(part, Record) and name in Record.model_fields)
    }
    shared = {name for part, name in said if issubclass(part, Record)}
    assert unused | {name for name in Record.model_fields if name not in shared} == set()


def test_a_block_a_flow_left_out_and_both_roles_are_in_plans_of_the_demo() -> None:
    rounds = [step.step.origin for proved in SORTIES for step in proved.plan.steps if step.step.origin.block]
    assert max(one.round for one in rounds) >= 3
    assert len({one.local for one in rounds}) >= 2  # several steps, not one for every item
    free = {person for proved in SORTIES for person in proved.plan.free}
    assert free
    assert free.isdisjoint(person for proved in SORTIES for person in proved.plan.outside)
    roles = [set(task.whoever) for task in demo().library.tasks.values()]
    assert set(ROLES) in roles
    assert any(one.record.whoever.keys() == {*ROLES} for proved in SORTIES for one in proved.extras.fitting)


def _values(node: yaml.Node, under: str = "") -> Iterator[tuple[str, str]]:
    """Every key of the files with each plain value below it; a list gives one for each entry."""
    if isinstance(node, yaml.ScalarNode):
        yield under, node.value
    elif isinstance(node, yaml.SequenceNode):
        for one in node.value:
            yield from _values(one, under)
    else:
        assert isinstance(node, yaml.MappingNode)
        for key, value in node.value:
            yield key.value, ""
            yield from _values(value, key.value)


def _all_values() -> set[tuple[str, str]]:
    files = sorted(CONTENT.rglob("*.yaml"))
    return {pair for file in files for pair in _values(yaml.compose(file.read_text("utf-8"), Loader=yaml.CSafeLoader))}


# Words among the values that mean something of their own.
WORDS = [
    ("restraint", "none"), ("after", PREVIOUS), ("then", "go on"), ("then", "leave the task"),
    ("not_before", "sunrise"), ("rushed", "together"), *(("who", role) for role in ROLES),
]  # fmt: skip


def test_every_word_that_means_something_of_its_own_is_used() -> None:
    used = _all_values()
    assert [pair for pair in WORDS if pair not in used] == []
    assert any("/" in value for key, value in used if key == "then")


def test_hazards_stand_at_a_place_an_equipment_and_a_tool_of_the_demo() -> None:
    library = demo().library
    assert all(any(one.hazards for one in library.of(kind).values()) for kind in ("places", "equipment", "tools"))


MOST_LINES = 6
"""The most lines of a step in the demo's files: what is said once for many steps is not said in each."""


def written_steps(node: yaml.Node) -> Iterator[tuple[str, yaml.MappingNode, int]]:
    """Every step below a node: its instruction, where it stands, and how many steps stand within it (in its cases)."""
    if isinstance(node, yaml.SequenceNode):
        for one in node.value:
            yield from written_steps(one)
    if isinstance(node, yaml.MappingNode):
        keys = {key.value: value for key, value in node.value}
        within = [step for value in keys.values() for step in written_steps(value)]
        if {"do", "takes"} <= keys.keys():
            yield keys["do"].value, node, len(within)
        yield from within


@pytest.mark.parametrize("file", sorted((CONTENT / "tasks").glob("*.yaml")), ids=lambda file: file.stem)
def test_no_step_takes_more_lines_than_six(file: Path) -> None:
    found = list(written_steps(yaml.compose(file.read_text("utf-8"), Loader=yaml.CSafeLoader)))
    assert found or "like:" in file.read_text("utf-8")  # all that it does is written in another file
    for words, node, within in found:
        lines = node.end_mark.line - node.start_mark.line + (node.end_mark.column > 0)
        assert lines <= MOST_LINES * (1 + within), words


# --- Misspelling ---------------------------------------------------------------------------------------------------


def misspelt(word: str) -> str:
    """The word with its first letter changed: as long as before, so that all other places stay where they are."""
    return ("x" if word[0] != "x" else "y") + word[1:]


def named_places() -> Iterator[tuple[Position, str]]:
    """Where each reference of the demo stands, and its word: fields, steps, links in texts and callouts."""
    evidence = demo().evidence
    for _, record in evidence.written.every():
        for ref in references_of(record):
            # A reference to a record of any kind is written with its kind.
            long = f"{ref.kinds[0]}:{ref}"
            row = evidence.sources[ref.position.file][ref.position.line - 1]
            yield ref.position, long if row[ref.position.column - 1 :].lstrip("'\"").startswith(long) else str(ref)
        for step_ref in step_references_of(record):
            yield step_ref.position, str(step_ref)
        seen: dict[str, int] = {}
        for link in text_links_of(record):
            words = f"{link.kinds[0]}:{link}"
            yield evidence.place_of_words(words, record.id.position, seen.get(words, 0)), words
            seen[words] = seen.get(words, 0) + 1


def test_every_misspelt_reference_of_the_demo_is_found_where_it_stands(tmp_path: Path) -> None:
    content = tmp_path / "content"
    shutil.copytree(CONTENT, content)
    places = sorted({(position, word) for position, word in named_places()}, reverse=True)
    assert len(places) > 1500
    expected: dict[Position, str] = {}
    lines = {file: (content / file).read_text("utf-8").split("\n") for file in demo().reading.sources}
    for position, word in places:
        row = lines[position.file][position.line - 1]
        start = position.column - 1
        kind, colon, rest = word.rpartition(":")
        found = re.match(re.escape(word), row[start:].lstrip("'\""))
        assert found, f"{position}: {word} is not what stands there"
        quote = len(row[start:]) - len(row[start:].lstrip("'\""))
        wrong = kind + colon + misspelt(rest)
        lines[position.file][position.line - 1] = row[: start + quote] + wrong + row[start + quote + len(word) :]
        expected[position] = wrong
    for file, rows in lines.items():
        (content / file).write_text("\n".join(rows), "utf-8")
    found_at = {finding.position for finding in examine(content).findings if finding.level is Level.ERROR}
    missed = [f"{place}: {word}" for place, word in expected.items() if place not in found_at]
    assert missed == [], "\n".join(missed)


def defined() -> list[tuple[str, str, Position]]:
    """Every id that the demo defines and something names."""
    named = {
        (kind, str(ref)) for _, record in demo().library.every() for ref in references_of(record) for kind in ref.kinds
    }
    return [
        (kind, str(record.id), record.id.position)
        for kind, record in demo().library.every()
        if (kind, str(record.id)) in named
    ]


@pytest.mark.parametrize(("kind", "name", "position"), defined()[::12], ids=str)
def test_a_misspelt_definition_is_named_as_the_nearest_at_every_use(
    kind: str, name: str, position: Position, tmp_path: Path
) -> None:
    content = tmp_path / "content"
    shutil.copytree(CONTENT, content)
    rows = (content / position.file).read_text("utf-8").split("\n")
    row, start = rows[position.line - 1], position.column - 1
    assert row[start:].startswith(name)
    rows[position.line - 1] = row[:start] + misspelt(name) + row[start + len(name) :]
    (content / position.file).write_text("\n".join(rows), "utf-8")
    errors = [finding for finding in examine(content).findings if finding.level is Level.ERROR]
    assert errors
    assert any(misspelt(name) in finding.sentence for finding in errors)


# --- The timeline --------------------------------------------------------------------------------------------------

EPS = 1e-6


@pytest.fixture(params=SORTIES, ids=[str(proved.sortie.id) for proved in SORTIES])
def proved(request: pytest.FixtureRequest) -> SortieEvidence:
    found: SortieEvidence = request.param
    return found


def test_nobody_does_two_steps_at_once_and_nobody_is_in_two_places(proved: SortieEvidence) -> None:
    for person in proved.plan.flows:
        steps = proved.timeline.of(person)
        assert steps
        for earlier, later in pairwise(steps):
            leg = proved.timeline.leg_to.get((person, later.step.index))
            travel = leg.end - leg.start if leg else 0.0
            assert later.start >= earlier.end + travel - EPS
            if leg:
                assert leg.origin == earlier.step.leads_to
                assert leg.goal == later.step.place
            elif later.step.place and person in proved.plan.outside:
                assert later.step.place == earlier.step.leads_to


def test_every_after_holds(proved: SortieEvidence) -> None:
    times = proved.timeline.times
    assert len(proved.plan.links) > 20
    for link in proved.plan.links:
        assert times[link.first].end <= times[link.second].start + EPS


def test_joint_steps_begin_when_the_last_is_there(proved: SortieEvidence) -> None:
    joint = [times for times in proved.timeline.times if len(times.step.people) > 1]
    assert joint
    for times in joint:
        ready = [0.0]
        for person in times.step.people:
            earlier = proved.plan.previous_for(person, times.step)
            leg = proved.timeline.leg_to.get((person, times.step.index))
            ready.append(leg.end if leg else proved.timeline.times[earlier.index].end if earlier else 0.0)
        ready += [
            proved.timeline.times[link.first].end for link in proved.plan.links if link.second == times.step.index
        ]
        assert times.start == pytest.approx(max(ready))


def test_each_persons_sums_make_the_whole(proved: SortieEvidence) -> None:
    for person in proved.plan.flows:
        sums = proved.timeline.sums(person)
        assert sum(sums.values()) == pytest.approx(proved.timeline.finish)
        assert min(sums.values()) >= -EPS


def test_the_critical_chain_is_unbroken_and_makes_the_finish(proved: SortieEvidence) -> None:
    chain = [proved.timeline.times[index] for index in proved.timeline.chain]
    assert chain[-1].end == pytest.approx(proved.timeline.finish)
    for earlier, later in pairwise(chain):
        assert proved.plan.order.before(earlier.step.index, later.step.index)
        assert later.slack == pytest.approx(proved.timeline.margin)


def test_the_plan_fits_into_its_limit(proved: SortieEvidence) -> None:
    assert proved.timeline.finish <= proved.sortie.limits.usable
    assert min(times.slack for times in proved.timeline.times) == pytest.approx(proved.timeline.margin)


def test_the_first_sortie_is_as_long_as_the_scenario_says() -> None:
    assert 6 * 3600 <= SORTIES[0].timeline.finish <= 6.25 * 3600
    assert 4.75 * 3600 <= SORTIES[1].timeline.finish <= 5.25 * 3600


def test_the_second_sortie_begins_with_what_the_first_left() -> None:
    first, second = SORTIES
    assert second.spot_starts == first.custody.ends
    assert second.state_starts == first.states.ends
    assert first.sortie.carries_over
    changed = [name for name, spot in second.spot_starts.items() if spot != first.spot_starts[name]]
    assert changed
