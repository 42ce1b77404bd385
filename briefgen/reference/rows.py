"""The rows of the format's reference: every key of every kind, and of the parts that records are made of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from briefgen.model.fields.base import Record
from briefgen.model.library import KINDS
from briefgen.reference.forms import Form, form_of


@dataclass(frozen=True)
class Row:
    """One key: whether it must be there, the form of its value, what it means, and an example in YAML.

    `parts` name the sections that describe what the value is made of.
    """

    key: str
    required: bool
    form: str
    means: str
    example: str
    parts: tuple[str, ...]


@dataclass(frozen=True)
class RecordSection:
    """A kind of record, or a part of one. `shared` are the keys that every kind has."""

    name: str
    title: str
    about: str
    is_kind: bool
    rows: tuple[Row, ...]


SHARED = "every-record"


def sections() -> tuple[RecordSection, ...]:
    """The kinds in the format's order, then what every record has, then the parts in the order they come up."""
    kinds = [_section(kind.key, kind.model, kind=True) for kind in KINDS.values()]
    shared = RecordSection(SHARED, "Every record", "Keys that are allowed everywhere.", False, tuple(_rows(Record)))
    models: list[type[BaseModel]] = [Record, *(kind.model for kind in KINDS.values())]
    found = (part for model in models for part in _parts(model))
    parts = {part.__name__: _section(part.__name__.lower(), part, kind=False) for part in found}
    return (*kinds, shared, *parts.values())


def _section(name: str, model: type[BaseModel], kind: bool) -> RecordSection:
    own = [row for row in _rows(model) if not (kind and _is_shared(model, row.key))]
    about = " ".join((model.__doc__ or "").split())
    return RecordSection(name, name.capitalize(), about, kind, tuple(own))


def _is_shared(model: type[BaseModel], key: str) -> bool:
    """Whether a kind has a key only because every record has it."""
    inherited = Record.model_fields.get(key)
    return inherited is not None and inherited.description == model.model_fields[key].description


def _rows(model: type[BaseModel]) -> Iterator[Row]:
    for name, info in model.model_fields.items():
        form = form_of(info.annotation, tuple(info.metadata))
        yield Row(
            info.alias or name,
            info.is_required(),
            form.words + _default(info),
            info.description or "",
            _in_yaml(str(info.examples[0]), form) if info.examples else _composed_example(form),
            tuple(part.__name__.lower() for part in form.parts),
        )


def _in_yaml(example: str, form: Form) -> str:
    """As it may be copied: words in which YAML would see a mapping or a comment are quoted."""
    return f'"{example}"' if form.words == "words" and (": " in example or " #" in example) else example


def _composed_example(form: Form) -> str:
    """The shortest that may stand there: what the part must have."""
    if not form.parts:
        return ""
    needed = ", ".join(f"{row.key}: {row.example}" for row in _rows(form.parts[0]) if row.required)
    return f"[{{{needed}}}]" if "list" in form.words else f"{{{needed}}}"


def _default(info: FieldInfo) -> str:
    if isinstance(info.default, (str, bool, int)):
        return f"; `{str(info.default).lower()}` if left out"
    return ""


def _parts(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """The parts of a model, and theirs."""
    waiting, met = [model], set[type[BaseModel]]()
    while waiting:
        for info in waiting.pop().model_fields.values():
            parts = [part for part in form_of(info.annotation, tuple(info.metadata)).parts if part not in met]
            yield from parts
            met.update(parts)
            waiting += parts
