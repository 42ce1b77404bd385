"""A record's ids exchanged for others, wherever it names them: in its fields, in `after`, and in links of its texts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from briefgen.model.fields.base import Part
from briefgen.source import Address, Ref, StepRef, Text

_LINK = re.compile(r"(?<=\]\()([a-z]+:)([a-z0-9-]+)")


class Exchange:
    """Ids and what stands instead. `used` are those that were met, `merged` pairs that became one in one place."""

    def __init__(self, instead: Mapping[Text, Text]) -> None:
        self._instead = {str(old): new for old, new in instead.items()}
        self.used: set[str] = set()
        self.merged: list[tuple[str, str]] = []

    def of(self, value: Any) -> Any:
        """The value with its ids exchanged; an id that comes in has the place at which `instead` names it."""
        if isinstance(value, Part):
            changes = {name: self.of(getattr(value, name)) for name in value.model_fields_set}
            return value.model_copy(update=changes)
        if isinstance(value, dict):
            self._look_for_merged(list(value))
            return {self.of(key): self.of(inner) for key, inner in value.items()}
        if isinstance(value, tuple):
            self._look_for_merged(list(value))
            return tuple(dict.fromkeys(map(self.of, value))) if _of_ids(value) else tuple(map(self.of, value))
        return self._leaf(value)

    def _leaf(self, value: Any) -> Any:
        if isinstance(value, Address):
            return value
        if isinstance(value, Ref):
            new = self._new(value)
            return value if new is None else Ref(str(new), new.position, value.kinds, value.part)
        if isinstance(value, StepRef):
            new = self._new(value.task) if value.step else None
            return value if new is None else StepRef(f"{new}/{value.step}", new.position)
        if type(value) is Text and "](" in value:
            return Text(_LINK.sub(self._in_link, value), value.position)
        return value

    def _in_link(self, found: re.Match[str]) -> str:
        return found[1] + str(self._new(found[2]) or found[2])

    def _new(self, identifier: str) -> Text | None:
        new = self._instead.get(str(identifier))
        if new is not None:
            self.used.add(str(identifier))
        return new

    def _look_for_merged(self, values: list[Any]) -> None:
        """Two ids of one list or mapping that would be the same: one of them would be lost."""
        if not self._instead or not _of_ids(values):
            return
        met: dict[str, str] = {}
        for one in map(str, values):
            new = str(self._instead.get(one, one))
            if met.setdefault(new, one) != one:
                self.merged.append((one if one in self._instead else met[new], new))


def _of_ids(values: Any) -> bool:
    return any(type(one) is Ref for one in values)
