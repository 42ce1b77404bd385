"""The demo's records as read, and what the checker finds when some of them are written otherwise."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from pathlib import Path
from typing import Any
from unittest import mock

from pydantic import ValidationError

from briefgen import build
from briefgen.build import Examination, examine
from briefgen.findings import Finding, Level
from briefgen.model.fields.values import RawList, RawMap
from briefgen.model.library import KINDS, Library
from briefgen.proof.evidence import Evidence
from briefgen.reading.folder import Reading, content_files
from briefgen.reading.tree import read_tree
from briefgen.rules.registry import Needs, Rule, all_rules
from briefgen.source import Position, Text
from tests.demo import demo as whole_demo

CONTENT = Path(__file__).parent.parent.parent / "content_demo"
NO_CATCH = "unneeded-acceptance"
"""That an accepted finding is gone points at no slip."""
UNREADABLE = Finding("wrong-value", Level.ERROR, Position(""), "A record can no longer be read.")
Name = tuple[str, str]
"""A record's kind and id."""
Records = Mapping[Name, Any]


@dataclass(frozen=True)
class Demo:
    """The demo, as written and as examined."""

    root: Path
    raw: Records
    whole: Examination
    catches: Counter[str] = field(default_factory=Counter)
    """How many slips each rule caught first: who caught many is asked first."""

    def copy(self, *name: str) -> Any:
        """A record as written, free to be changed."""
        return copied(self.raw[name[0], name[1]])

    def of(self, kind: str) -> Iterator[tuple[str, Any]]:
        """The records of a kind, by id, as written."""
        return ((name, raw) for (key, name), raw in self.raw.items() if key == kind)

    @cached_property
    def known(self) -> frozenset[tuple[str, str]]:
        """What is found in the unbroken demo."""
        return frozenset((finding.rule, finding.sentence) for finding in self.whole.findings)

    def changed(self, records: Records) -> Reading | None:
        """The demo with some records written otherwise; None where one of them can no longer be read."""
        reading = self.whole.reading
        made = {kind: dict(entries) for kind, entries in reading.library.records.items()}
        for (kind, name), raw in records.items():
            old = made[kind][name]
            try:
                made[kind][name] = KINDS[kind].model.model_validate(raw).known_as(old.id)
            except ValidationError:
                return None
        return replace(reading, library=Library(made))

    def findings(self, records: Records) -> tuple[Finding, ...]:
        """The errors and warnings that the changed records bring about."""
        reading = self.changed(records)
        return self.fresh(self.examined(reading)) if reading else (UNREADABLE,)

    def examined(self, reading: Reading) -> Examination:
        """The whole way of `examine` with records that are already read; pictures and advice don't change."""
        return self._examined(reading, _without_advice)

    def caught(self, reading: Reading) -> tuple[Finding, ...]:
        """The same until a rule finds something that nobody accepts; where nothing is found, all rules were asked."""
        accepted = {str(one.finding) for _, record in reading.library.every() for one in record.accepts}
        caught: list[str] = []

        def until_caught(stage: Needs) -> Iterator[_Noting]:
            for rule in sorted(_without_advice(stage), key=lambda rule: -self.catches[rule.name]):
                if caught:
                    return
                yield (noting := _Noting(rule))
                caught.extend({noting.rule.name} - accepted if noting.found else ())

        found = self.fresh(self._examined(reading, until_caught))
        self.catches.update(caught)
        assert found or not caught
        return found

    def fresh(self, examination: Examination) -> tuple[Finding, ...]:
        """The errors and warnings that are not found in the unbroken demo."""
        return tuple(
            one
            for one in examination.findings
            if one.level is not Level.ADVICE and one.rule != NO_CATCH and (one.rule, one.sentence) not in self.known
        )

    def _examined(self, reading: Reading, asked: Callable[[Needs], Iterator[Any]]) -> Examination:
        with (
            mock.patch.object(build, "read_folder", return_value=reading),
            mock.patch.object(build, "picture_findings", return_value=()),
            mock.patch.object(build, "rules_at", asked),
        ):
            return examine(self.root)


class _Noting:
    """A rule that remembers whether it found something."""

    def __init__(self, rule: Rule) -> None:
        self.rule = rule
        self.found = False

    def findings(self, evidence: Evidence) -> Iterator[Finding]:
        for finding in self.rule.findings(evidence):
            self.found = True
            yield finding


def _without_advice(stage: Needs) -> Iterator[Rule]:
    return (rule for rule in all_rules().values() if rule.needs is stage and rule.level is not Level.ADVICE)


@cache
def demo() -> Demo:
    """The demo, read once."""
    raw: dict[Name, Any] = {}
    for path in content_files(CONTENT):
        tree, _ = read_tree(path.read_text(encoding="utf-8"), path.relative_to(CONTENT).as_posix())
        for kind, records in (tree or {}).items():
            raw |= {(str(kind), str(name)): record for name, record in records.items()}
    return Demo(CONTENT, raw, whole_demo())


def copied(raw: Any) -> Any:
    """A copy of what was read; the words in it can't change, and are shared."""
    if isinstance(raw, RawMap):
        made: Any = RawMap({key: copied(value) for key, value in raw.items()})
    elif isinstance(raw, RawList):
        made = RawList(copied(value) for value in raw)
    else:
        return raw
    made.position = raw.position
    return made


def written(value: Any, near: Any) -> Any:
    """A new value, placed where the old one stands."""
    spot = getattr(near, "position", Position(""))
    if isinstance(value, Mapping):
        made: Any = RawMap({written(key, near): written(one, near) for key, one in value.items()})
    elif isinstance(value, list):
        made = RawList(written(one, near) for one in value)
    else:
        return Text(str(value), spot)
    made.position = spot
    return made
