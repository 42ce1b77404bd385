"""Values of two versions made comparable: units, line breaks and links aside, and old names told in new ones."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from briefgen.language.sentences import plain
from briefgen.model.library import Library
from briefgen.proof.plan import step_key
from briefgen.source import Ref, StepRef
from briefgen.units import Duration, Quantity

Renamed = Mapping[tuple[str, str], str]
"""The new id of a record that goes by another one, by its kind's key and its old id."""

# What an author accepts is about findings, not about the plan; a revision's letter heads the list of changes.
_ASIDE = frozenset({"accepts", "revision"})


def as_written(one: Any, other: Any) -> bool:
    """Whether two values are the same word by word: then they are the same for the crew, unless a name moved on."""
    if type(one) is not type(other):
        return False  # a part that is there in one version only
    if isinstance(one, BaseModel):
        names = type(one).model_fields
        return all(name in _ASIDE or as_written(getattr(one, name), getattr(other, name)) for name in names)
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(as_written(inner, other[key]) for key, inner in one.items())
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(as_written, one, other))
    return bool(one == other) and getattr(one, "part", "") == getattr(other, "part", "")


class Normal:
    """One version's values. `renamed` and `steps` say what an old record, or step (`task/step`), is called now."""

    def __init__(self, library: Library, renamed: Renamed | None = None, steps: Mapping[str, str] | None = None):
        self._library, self._renamed, self._steps = library, renamed or {}, steps or {}

    def of(self, value: Any) -> Any:
        """Something that equals the other version's where nothing differs for the crew."""
        if isinstance(value, BaseModel):
            fields = type(value).model_fields
            return {name: self.of(getattr(value, name)) for name in fields if name not in _ASIDE}
        if isinstance(value, dict):
            return {self.of(key): self.of(inner) for key, inner in value.items()}
        if isinstance(value, tuple):
            return tuple(map(self.of, value))
        return self._leaf(value)

    def _leaf(self, value: Any) -> Any:
        if isinstance(value, Ref):
            return "#".join(filter(None, [self.name(value, *value.kinds), value.part]))
        if isinstance(value, StepRef):
            return self.step(value)
        if isinstance(value, Duration):
            return value.low, value.likely, value.high
        if isinstance(value, Quantity):
            return float(f"{float(value):.9g}")  # 600 g are 0.6 kg, whatever the last binary digit says
        return " ".join(plain(value).split()) if isinstance(value, str) else value

    def name(self, identifier: str, *kinds: str) -> str:
        """What a record of one of these kinds is called now."""
        found = (self._renamed[kind, str(identifier)] for kind in kinds if (kind, str(identifier)) in self._renamed)
        return next(found, str(identifier))

    def step(self, ref: StepRef) -> str:
        """What a step, or a whole task, is called now."""
        if not ref.step:
            return self.name(ref.task, "tasks")
        key = step_key(self._library, ref.task, ref.step) or str(ref)
        return self._steps.get(key, key)
