"""A long search is found again by what it follows from, and by nothing else: no word that is only shown is in it."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from functools import cache
from itertools import islice
from types import FrameType
from typing import Any

import pytest
from pydantic import BaseModel

from briefgen.cache.plain import Plain
from briefgen.cache.results import NO_RESULTS, KeptResults
from briefgen.expansion import exchange
from briefgen.model.fields.base import Part
from briefgen.model.fields.digest import only_shown
from briefgen.model.library import Library
from briefgen.proof.deciding.underway.day import make_day
from briefgen.proof.deciding.underway.turning import cuts, stop_after, stops_ahead
from briefgen.proof.evidence import Evidence
from briefgen.source import Text
from briefgen.units import Duration
from tests.demo import demo

FEW = 60


def searched(evidence: Evidence) -> dict[str, Any]:
    """All that is searched long for a site."""
    found: dict[str, Any] = {}
    for name, proved in evidence.sorties.items():
        found[f"{name} extras"] = proved.extras
        found[f"{name} latest"] = proved.latest
        found[f"{name} stops"] = proved.stops
        found[f"{name} chance"] = proved.chance
        day = make_day(proved)
        found[f"{name} ahead"] = tuple(stops_ahead(day, FEW))
        found[f"{name} off the line"] = [
            stop_after(day, cut, now) for cut in islice(cuts(day), 3) for now in (None, 9e3)
        ]
    return found


@cache
def first() -> tuple[KeptResults, dict[str, Any]]:
    """The demo's searches, kept."""
    results = KeptResults()
    return results, searched(Evidence(demo().evidence.written, results=results))


def again() -> KeptResults:
    """What the next build finds of them."""
    return KeptResults(json.loads(json.dumps(first()[0].asked)))


class NothingComputed(KeptResults):
    """Where nothing may be computed."""

    def once(self, name: object, follows_from: Callable[[], str], plain: Plain, compute: Callable[[], Any]) -> Any:
        def fail() -> None:
            raise AssertionError(name)

        return super().once(name, follows_from, plain, fail)


def reworded(value: Any) -> Any:
    """The same with every word that is only shown replaced by another."""
    if isinstance(value, BaseModel):
        # What is seen of a case goes into the planned case, where it is told from others.
        shown = only_shown(type(value)) - {"when"}
        changed = {}
        for name in value.model_fields_set:  # what was written
            old = getattr(value, name)
            changed[name] = Text("zyx") if name in shown and old is not None else reworded(old)
        return value.model_copy(update=changed)
    if isinstance(value, dict):
        return {key: reworded(inner) for key, inner in value.items()}
    return tuple(map(reworded, value)) if type(value) is tuple else value


def test_what_is_searched_with_a_cache_is_what_is_searched_without_one() -> None:
    assert searched(Evidence(demo().evidence.written, results=NO_RESULTS)) == first()[1]


def test_nothing_is_searched_twice_whatever_it_is_called() -> None:
    other = Library(reworded(dict(demo().evidence.written.records)))
    assert str(other.people["ev1"].callsign) == "zyx"
    evidence = Evidence(other, results=NothingComputed(again().asked or first()[0].asked))
    found = searched(evidence)
    assert {name: one for name, one in found.items() if "extras" not in name} == {
        name: one for name, one in first()[1].items() if "extras" not in name
    }
    for name, one in found.items():
        if "extras" in name:
            assert [extra.task for extra in one.fitting] == [extra.task for extra in first()[1][name].fitting]


def is_copied(frame: FrameType) -> bool:
    """Whether a record is copied for other people, words and all, and they are looked at for people only."""
    return frame.f_code.co_filename == exchange.__file__


def test_no_search_reads_a_word_that_is_only_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    evidence = Evidence(demo().evidence.written)
    assert evidence.library.digest
    get = Part.__getattribute__

    def watched(part: Part, name: str) -> Any:
        if not name.startswith("_") and name in only_shown(type(part)) and not is_copied(sys._getframe(1)):
            raise AssertionError(f"{type(part).__name__}.{name} is read")
        return get(part, name)

    def compared(*parts: Part) -> bool:
        raise AssertionError(f"{type(parts[0]).__name__} is compared, words and all")

    monkeypatch.setattr(Part, "__getattribute__", watched)
    monkeypatch.setattr(Part, "__eq__", compared)
    monkeypatch.setattr(Part, "__hash__", compared)
    with pytest.raises(AssertionError, match=r"Person\.callsign is read"):
        evidence.library.people["ev1"].callsign  # noqa: B018 (the watch works)
    assert searched(evidence)


def changes() -> Iterator[tuple[str, Library]]:
    """The demo with one thing changed that a search may follow from."""
    written = demo().evidence.written

    def with_record(kind: str, name: str, **changed: Any) -> Library:
        record = written.of(kind)[name].model_copy(update=changed)
        return Library({**written.records, kind: {**written.of(kind), name: record}})

    task = written.tasks["change-filter"]
    step = task.steps[0].model_copy(update={"takes": Duration(60.0, 120.0, 181.0)})
    yield "duration", with_record("tasks", "change-filter", steps=(step, *task.steps[1:]))
    yield "order", with_record("tasks", "change-filter", steps=(task.steps[1], task.steps[0], *task.steps[2:]))
    yield "post", with_record("people", "ev1", post="ground")
    yield "nobody", Library({**written.records, "hazards": {}})
    yield "other order", Library({**written.records, "people": dict(reversed(written.people.items()))})


def test_what_may_matter_is_in_the_digest() -> None:
    found = dict(changes())
    assert len({library.digest for library in (demo().evidence.written, *found.values())}) == len(found) + 1
