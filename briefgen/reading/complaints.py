"""What the validation library objects to, in the author's words and at the author's place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel, ValidationError

from briefgen.findings import Finding, Level
from briefgen.language.nearest import nearest
from briefgen.model.fields.base import Record
from briefgen.model.fields.choices import COLOURS, OTHER_WORDS
from briefgen.model.fields.values import RawList, RawMap, place_of
from briefgen.model.steps import Step
from briefgen.model.tasks import BLOCK_TAG, STEP_TAG, Block
from briefgen.source import NOWHERE, Position

_Path = tuple[Any, ...]
_TAGGED: Mapping[str, type[BaseModel]] = MappingProxyType({STEP_TAG: Step, BLOCK_TAG: Block})


def complaints(error: ValidationError, raw: Any, owner: str, model: type[Record]) -> Iterator[Finding]:
    """One finding per mistake. `owner` says whose it is, like “task swap-pump”."""
    details = error.errors(include_url=False)
    misspelt = set(_misspelt(details, model))
    for detail in details:
        path = tuple(detail["loc"])
        if detail["type"] == "missing" and path in misspelt:
            continue  # it is there, under a name that has a finding of its own
        entry = (detail.get("ctx") or {}).get("at")
        path = path if entry is None else (*path, entry)
        if detail["type"] == "too_short" and any(
            other["loc"][: len(path)] == path != other["loc"] for other in details
        ):
            continue  # it is short only because what stands there could not be understood
        rule, sentence, write = _sentence(dict(detail), path, owner, model)
        there = tuple(part for part in path if part not in _TAGGED)
        spot = _key_position(raw, there) if rule == "unknown-key" else _position(raw, there)
        yield Finding(rule, Level.ERROR, spot, sentence, write=write)


def _misspelt(details: Iterable[Any], model: type[Record]) -> Iterator[_Path]:
    """Where the keys would stand that were probably meant by keys that nobody knows."""
    for detail in details:
        if detail["type"] == "extra_forbidden":
            *above, key = detail["loc"]
            yield (*above, nearest(str(key), _keys_at(model, tuple(above))))


def _sentence(detail: dict[str, Any], path: _Path, owner: str, model: type[Record]) -> tuple[str, str, str]:
    where = _where(path, owner)
    context = detail.get("ctx") or {}
    match detail["type"]:
        case "extra_forbidden":
            known = _keys_at(model, path[:-1])
            close = nearest(str(path[-1]), known)
            hint = f"Did you mean “{close}”?" if close else f"Known here: {', '.join(sorted(known))}."
            return "unknown-key", f"“{path[-1]}” is no key of {_where(path[:-1], owner)}. {hint}", ""
        case "missing":
            return "missing-key", f"{_capital(_where(path[:-1], owner))} has no “{path[-1]}”.", f"{path[-1]}: …"
        case "briefgen":
            return context.get("rule") or "wrong-value", f"{_capital(where)}: {context['sentence']}.", ""
        case "literal_error":
            word, words = str(detail["input"]), context["expected"].replace("'", "").replace(" or ", ", ").split(", ")
            other = OTHER_WORDS if tuple(words) == COLOURS else {}
            close = other[word.lower()] if word.lower() in other else nearest(word.lower(), words)
            hint = f" Did you mean “{close}”?" if close else ""
            sentence = f"{_capital(where)}: “{word}” is none of {', '.join(words)}.{hint}"
            return "wrong-value", sentence, _with_key(path, close)
        case "too_short":
            least = "write at least one" if context["min_length"] == 1 else f"write at least {context['min_length']}"
            return "wrong-value", f"{_capital(where)}: too little stands here, {least}.", ""
        case "too_long":
            return "wrong-value", f"{_capital(where)}: too much stands here, write at most {context['max_length']}.", ""
        case "dict_type" | "model_type" | "mapping_type":
            return "wrong-value", f"{_capital(where)}: a mapping (“key: value”) is expected here.", ""
        case "tuple_type" | "list_type":
            return "wrong-value", f"{_capital(where)}: a list is expected here.", ""
        case _:
            return "wrong-value", f"{_capital(where)}: {detail['msg'][0].lower()}{detail['msg'][1:]}.", ""


def _with_key(path: _Path, value: str) -> str:
    """`post: ground`: a word as it is written where the path leads; nothing where no word was meant."""
    return f"{path[-1]}: {value}" if value and path and isinstance(path[-1], str) else value


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _where(path: _Path, owner: str) -> str:
    """`“takes” of step 3 of task swap-pump`."""
    names = [part for part in path if part != "[key]"]
    if not names:
        return owner
    words = owner
    index = 0
    while index < len(names):
        name = names[index]
        following = names[index + 1] if index + 1 < len(names) else None
        if name in _TAGGED:
            index += 1
        elif name == "steps" and isinstance(following, int):
            noun = "block" if names[index + 2 : index + 3] == [BLOCK_TAG] else "step"
            words = f"{noun} {following + 1} of {words}"
            index += 2
        elif isinstance(following, int):
            words = f"“{name}” {following + 1} of {words}"
            index += 2
        else:
            words = f"“{name}” of {words}"
            index += 1
    return words


def _keys_at(model: type[BaseModel], path: _Path) -> set[str]:
    """The keys that a model, or the part of it along the path, knows."""
    current: type[BaseModel] = model
    for part in path:
        if part in _TAGGED:
            current = _TAGGED[part]
        elif isinstance(part, str) and part != "[key]":
            named = {info.alias or name: info for name, info in current.model_fields.items()}
            if part in named:
                current = _model_in(named[part].annotation) or current
    return {info.alias or name for name, info in current.model_fields.items()}


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = _model_in(inner)
        if found:
            return found
    return None


def _position(raw: Any, path: _Path) -> Position:
    """The place of what the path leads to, or of the last thing on it that exists."""
    spot, node = place_of(raw), raw
    for part in path:
        if part == "[key]":
            continue
        following = _step_into(node, part)
        if following is None:
            break
        spot, node = _place(node, part, following, spot), following
    if path and path[-1] == "[key]":
        return _key_position(raw, path[:-1])
    return spot


def _place(node: Any, part: Any, value: Any, otherwise: Position) -> Position:
    found = place_of(value)
    return found if found != NOWHERE else otherwise


def _key_position(raw: Any, path: _Path) -> Position:
    node = raw
    for part in path[:-1]:
        following = _step_into(node, part)
        node = node if following is None else following
    if isinstance(node, RawMap):
        for key in node:
            if key == path[-1]:
                return place_of(key)
    return _position(raw, path[:-1])


def _step_into(node: Any, part: Any) -> Any | None:
    if isinstance(node, RawMap):
        if part not in node and part in ("tool", "setting") and len(node) == 1:
            # `driver: loosen` is the short form of `{tool: driver, setting: loosen}`.
            ((tool, setting),) = node.items()
            return tool if part == "tool" else setting
        return node.get(part)
    if isinstance(node, RawList) and isinstance(part, int) and part < len(node):
        return node[part]
    # One value may stand for a list of one, and a bare word for a mapping: then the path is longer than the tree.
    return node if isinstance(node, str) or part == 0 else None
