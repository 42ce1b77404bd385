"""Nothing that the format lets an author say is invisible to the comparison: every field of every model is compared."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

from briefgen.model.library import KINDS, Library
from briefgen.model.steps import Step
from briefgen.proof.evidence import Evidence
from briefgen.revision.comparison import Comparison
from briefgen.revision.differences.facets import ELSEWHERE, FACETS
from briefgen.revision.pairing.version import Version
from briefgen.source import Ref, Text
from briefgen.versions import version_of
from tests.demo import demo

# What an author says about the briefing's making, not about the outing.
ABOUT_THE_TEXT = {("sorties", "revision"), *((kind, "accepts") for kind in KINDS)}
# Written once, planned many times: compared as the steps that follow from it.
PLANNED = {("tasks", name) for name in ("steps", "like", "instead", "defaults")} | {("sorties", "flow")}


def test_every_key_of_a_step_is_compared() -> None:
    assert {facet.key for facet in FACETS} | ELSEWHERE == set(Step.model_fields)


@pytest.mark.parametrize("key", sorted(set(Step.model_fields) - ELSEWHERE))
def test_another_value_at_a_key_of_a_step_is_another_facet(key: str) -> None:
    library, [facet] = demo().library, [one for one in FACETS if one.key == key]
    normal = Comparison(version(), version()).pair.names.old
    every = [(task, step) for task in library.tasks.values() for step in task.steps]
    values = {
        str(facet.compared(normal, task, step.model_copy(update={key: getattr(other, key)}), library))
        for task, step in every[:1] for _, other in every
    }  # fmt: skip
    assert len(values) > 1


@pytest.mark.parametrize("key", sorted(set(Step.model_fields) - {"id", "in_case"}))
def test_another_value_at_a_key_of_a_step_in_a_case_is_another_facet(key: str) -> None:
    library, [facet] = demo().library, [one for one in FACETS if one.key == "in_case"]
    normal = Comparison(version(), version()).pair.names.old
    task, step = next((task, step) for task in library.tasks.values() for step in task.steps if step.in_case)
    written = demo().evidence.written.tasks.values()  # in which confirmations are still keys of the steps they confirm
    other = [one for task in (*library.tasks.values(), *written) for one in task.steps or () if isinstance(one, Step)]
    case = step.in_case[0]
    values = set()
    for one in other:
        inner = case.steps[0].model_copy(update={key: getattr(one, key)})
        within = case.model_copy(update={"steps": (inner, *case.steps[1:])})
        changed_step = step.model_copy(update={"in_case": (within, *step.in_case[1:])})
        values.add(str(facet.compared(normal, task, changed_step, library)))
    assert len(values) > 1


@cache
def version() -> Version:
    return version_of(demo())


def fields() -> Iterator[tuple[str, str]]:
    """Every field of every kind of record that may be left out."""
    for kind, made in KINDS.items():
        for name, field in made.model.model_fields.items():
            if (kind, name) not in ABOUT_THE_TEXT | PLANNED and not field.is_required():
                yield kind, name


def changed(library: Library, kind: str, name: str) -> Library:
    """The library in which one record has the field no more; or else the first has it."""
    field = KINDS[kind].model.model_fields[name]
    default: Any = field.get_default(call_default_factory=True, validated_data={})
    records = library.of(kind)
    key = next((key for key, record in records.items() if getattr(record, name) != default), None)
    value: Any = default if key else (FigureRefs if name == "figures" else Text("Other words"))
    key = key or next(iter(records))
    other = records[key].model_copy(update={name: value})
    return Library({**library.records, kind: {**records, key: other}})


FigureRefs = (Ref("pump-front"),)


@pytest.mark.parametrize(("kind", "name"), list(fields()))
def test_a_field_of_a_record_shows_as_a_change_of_it(kind: str, name: str) -> None:
    old = version()
    new = Version(Evidence(changed(old.evidence.written, kind, name)), old.digests)
    changes = Comparison(old, new).changes
    assert any(change.subject.kind == KINDS[kind].singular for change in changes)
