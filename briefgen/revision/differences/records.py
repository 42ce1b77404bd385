"""All other records: what is new, gone, renamed, or says something else. Pictures are told by their digest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from briefgen.model.library import KINDS
from briefgen.revision.change import Change, Detail, Topic, Verb, remark
from briefgen.revision.concern import Concern, concerned
from briefgen.revision.differences.fields import Leaf, Path, label_of, leaves, titled
from briefgen.revision.pairing.normal import as_written
from briefgen.revision.pairing.pair import Pair, record_subject

_TOPICS: Mapping[str, Topic] = MappingProxyType(
    {
        "programme": Topic.TASKS, "sorties": Topic.TASKS, "tasks": Topic.TASKS, "people": Topic.PEOPLE,
        "suits": Topic.SUPPLIES, "places": Topic.PLACES, "routes": Topic.PLACES, "tools": Topic.TOOLS,
        "bags": Topic.TOOLS, "equipment": Topic.STATES, "hazards": Topic.HAZARDS, "figures": Topic.FIGURES,
        "outcomes": Topic.LEARNING, "questions": Topic.LEARNING, "terms": Topic.WORDS,
    }
)  # fmt: skip
# What a mistake in could hurt somebody: it comes first.
_SAFETY: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "hazards": frozenset({"signal", "hazard", "consequence", "avoid", "controls"}),
        "sorties": frozenset({"limits"}), "suits": frozenset({"supplies"}), "equipment": frozenset({"control"}),
        "places": frozenset({"anchor", "hazards", "home"}), "routes": frozenset({"hazards"}),
    }
)  # fmt: skip
# Said elsewhere, in the plan's terms.
_ASIDE = frozenset({"steps", "cases", "flow", "accepts", "revision"})
PICTURE = "Picture"


def record_changes(pair: Pair) -> Iterator[Change]:
    """Every difference in records beside steps and ways."""
    before, after = concerned(pair.old), concerned(pair.new)
    for kind in KINDS:
        yield from _of_kind(pair, kind, before, after)


def _of_kind(pair: Pair, kind: str, before: Concern, after: Concern) -> Iterator[Change]:
    old, new = pair.old.library.of(kind), pair.new.library.of(kind)
    back = {pair.names.record(kind, name): name for name in old}
    for name in new:
        if name in back:
            details = tuple(_details(pair, kind, back[name], name))
            verb = Verb.RENAMED if all(one.what == "Id" for one in details) else Verb.CHANGED
            yield from _split(_change(pair, kind, name, verb, details, after)) if details else ()
        elif kind != "tasks":
            yield _change(pair, kind, name, Verb.NEW, (), after)
    for name in old:
        if pair.names.record(kind, name) not in new and kind != "tasks":
            yield _change(pair, kind, name, Verb.GONE, (), before)


def _change(pair: Pair, kind: str, name: str, verb: Verb, details: tuple[Detail, ...], concern: Concern) -> Change:
    telling = pair.was if verb is Verb.GONE else pair.now
    subject = record_subject(telling, kind, KINDS[kind].singular, name)
    people, sorties = concern.get((kind, name), ((), ()))
    return Change(_TOPICS[kind], verb, subject, details, people, sorties)


def _split(change: Change) -> Iterator[Change]:
    """A sortie's limits are said apart from its other words."""
    limits = tuple(one for one in change.details if change.subject.kind == "sortie" and one.what.startswith("Limits"))
    rest = tuple(one for one in change.details if one not in limits)
    for topic, details in ((Topic.LIMITS, limits), (change.topic, rest)):
        if details:
            yield Change(topic, change.verb, change.subject, details, change.people, change.sorties)


def _details(pair: Pair, kind: str, was: str, now: str) -> Iterator[Detail]:
    one, other = pair.old.library.of(kind)[was], pair.new.library.of(kind)[now]
    if was != now:
        yield Detail("Id", was, now)
    only = frozenset(type(other).model_fields) - _ASIDE
    yield from _differing(pair, kind, one, other, only)
    yield from _picture(pair, one, other) if kind == "figures" else ()


def _differing(pair: Pair, kind: str, one: Any, other: Any, only: frozenset[str]) -> Iterator[Detail]:
    if pair.names_stand:  # most records, fields and all, are as they were
        only = frozenset(name for name in only if not as_written(getattr(one, name), getattr(other, name)))
    before, after = leaves(one, pair.names.old, pair.was, only), leaves(other, pair.names.new, pair.now, only)
    nothing: Leaf = ("", None, "")
    written = {name for name in only if _first_written(one, other, name)}
    yield from (remark(label_of(name), f"written, {len(getattr(other, name))} items") for name in sorted(written))
    for path in dict.fromkeys([*after, *before]):
        if path[0] in written:
            continue
        old, new = before.get(path, nothing), after.get(path, nothing)
        if old[1] != new[1]:
            yield Detail(new[0] or old[0], old[2], new[2], _is_safety(kind, path))


def _first_written(one: Any, other: Any, name: str) -> bool:
    """Whether a list of titled parts is there for the first time: then it is not told part by part."""
    return not getattr(one, name) and titled(getattr(other, name))


def _is_safety(kind: str, path: Path) -> bool:
    return path[0] in _SAFETY.get(kind, frozenset())


def _picture(pair: Pair, one: Any, other: Any) -> Iterator[Detail]:
    """Whether a picture of the same name is another one; a picture by another name is said as a field."""
    for name in dict.fromkeys(one.files):
        was, now = pair.old.digests.get(name, ""), pair.new.digests.get(name, "")
        if name in other.files and was and now and was != now:
            yield remark(PICTURE, "drawn anew" if name == str(one.still) else f"made anew: {name}")
