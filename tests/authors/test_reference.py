"""The tables of the format's reference: nothing left out, and every example is one that the format reads."""

from __future__ import annotations

import re
from typing import Annotated, Any

import pytest
from pydantic import BaseModel, TypeAdapter

from briefgen.model.library import KINDS
from briefgen.reading.tree import read_tree
from briefgen.reference.forms import form_of
from briefgen.reference.markdown import reference_pages
from briefgen.reference.rows import SHARED, RecordSection, sections
from briefgen.reference.rules import rule_pages
from briefgen.rules.registry import all_rules
from tests.demo import CONTENT

SECTIONS = {section.name: section for section in sections()}
MODELS: dict[str, type[BaseModel]] = {kind.key: kind.model for kind in KINDS.values()}


def keys_of(section: RecordSection) -> list[str]:
    return [row.key for row in section.rows]


def test_every_kind_has_a_section_and_every_section_rows() -> None:
    assert [section.name for section in SECTIONS.values() if section.is_kind] == list(KINDS)
    assert [section.name for section in SECTIONS.values() if not section.rows] == []


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_of_a_kind_stands_in_its_section_or_in_the_shared_one(kind: str) -> None:
    model = KINDS[kind].model
    keys = {info.alias or name for name, info in model.model_fields.items()}
    assert keys <= {*keys_of(SECTIONS[kind]), *keys_of(SECTIONS[SHARED])}


@pytest.mark.parametrize("section", SECTIONS.values(), ids=lambda section: section.name)
def test_every_key_has_words_and_an_example(section: RecordSection) -> None:
    for row in section.rows:
        assert row.form, row.key
        assert row.means.endswith((".", ":", "?")), row.key
        assert row.example, row.key
        assert set(row.parts) <= set(SECTIONS), row.key


def fields() -> list[tuple[str, str, Any, tuple[Any, ...], str]]:
    models = dict(MODELS)
    waiting = list(models.values())
    while waiting:
        for info in waiting.pop().model_fields.values():
            for part in form_of(info.annotation, tuple(info.metadata)).parts:
                if part.__name__.lower() not in models:
                    models[part.__name__.lower()] = part
                    waiting.append(part)
    return [
        (name, field, info.annotation, tuple(info.metadata), example_of(name, info.alias or field))
        for name, model in models.items()
        for field, info in model.model_fields.items()
    ]


def example_of(section: str, key: str) -> str:
    rows = [*SECTIONS[section].rows, *SECTIONS[SHARED].rows]
    return next(row.example for row in rows if row.key == key)


@pytest.mark.parametrize(("section", "key", "annotation", "metadata", "example"), fields())
def test_every_example_is_one_that_the_format_reads(
    section: str, key: str, annotation: Any, metadata: tuple[Any, ...], example: str
) -> None:
    tree, findings = read_tree(f"value: {example}", "example.yaml")
    assert findings == ()
    kind = Annotated[(annotation, *metadata)] if metadata else annotation
    read = TypeAdapter(kind).validate_python(tree["value"])
    assert read not in (None, ())


def test_forms_name_kinds_units_and_choices() -> None:
    forms = {(section.name, row.key): row.form for section in SECTIONS.values() for row in section.rows}
    assert forms["step", "picks"] == "one or a list: the id of a tool or bag"
    assert forms["routes", "length"] == "a length (m, cm, mm, km)"
    assert forms["tasks", "priority"] == "one of `required`, `time-permitting`, `get-ahead`; `required` if left out"
    assert forms["sorties", "flow"].startswith("a mapping from the id of a person to")
    assert {row.key for row in SECTIONS["step"].rows if row.required} == {"do", "takes"}


def test_a_type_that_the_format_does_not_know_is_refused() -> None:
    with pytest.raises(TypeError, match="no words for"):
        form_of(bytes)


def test_every_rule_has_a_page_that_shows_where_the_finding_points() -> None:
    pages = rule_pages(all_rules().values())
    assert {page.name for page in pages} == set(all_rules())
    for page in pages:
        assert page.says.endswith(".")
        assert page.why
        assert "▸" not in page.wrong
        lines = page.wrong.split("\n")
        if "▸" in all_rules()[page.name].wrong:
            assert page.column <= len(lines[page.line - 1]) + 1


GUIDE = CONTENT / "pages" / "guide"


@pytest.mark.parametrize("name", reference_pages())
def test_the_reference_in_the_guide_is_current(name: str) -> None:
    again = "run: python -m briefgen.reference content_demo/pages/guide"
    assert (GUIDE / name).read_text(encoding="utf-8") == reference_pages()[name], again


def test_rules_are_no_part_of_the_guides_files() -> None:
    """Every site makes its own pages of the rules, so a second copy of them would only grow old."""
    assert list((GUIDE / "rules").glob("*")) == []


def test_every_part_that_a_key_leads_to_has_a_heading() -> None:
    page = reference_pages()["format.md"]
    headings = {line.lstrip("# ").lower().replace(" ", "-") for line in page.splitlines() if line.startswith("#")}
    assert set(re.findall(r"\(#([a-z-]+)\)", page)) <= headings
