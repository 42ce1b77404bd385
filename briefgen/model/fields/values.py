"""The values that fields hold: each turns an author's word into a typed value that keeps its place.

Scalars arrive as `Text`; nothing here guesses types the way YAML does.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from briefgen.model.fields import limits
from briefgen.source import NOWHERE, Address, Position, Ref, StepRef, Text

ID_PATTERN = r"[a-z][a-z0-9]*(-[a-z0-9]+)*"
PREVIOUS = "previous"
"""In `after`, whatever step stands above."""
_ID = re.compile(ID_PATTERN)
NUMBER_PATTERN = r"[0-9]{1,15}(\.[0-9]{1,30})?"
_STEP_PATTERN = rf"({ID_PATTERN}|[1-9][0-9]*)"
_STEP_ID = re.compile(_STEP_PATTERN)
# A step; a block, a step in a block, or that for one item of it; and all these with their task before them.
_PATH_PATTERN = rf"{_STEP_PATTERN}(/[a-z0-9]+(-[a-z0-9]+)*){{0,3}}"
_STEP_PATH = re.compile(_PATH_PATTERN)


class RawMap(dict[Any, Any]):
    """A mapping as read, with the place where it begins."""

    position: Position = NOWHERE


class RawList(list[Any]):
    """A list as read, with the place where it begins."""

    position: Position = NOWHERE


def wrong(sentence: str, at: int | None = None, rule: str = "wrong-value") -> PydanticCustomError:
    """An error that carries a whole sentence for the author; `at` is the number, from 0, of an entry in a list."""
    return PydanticCustomError("briefgen", "{sentence}", {"sentence": sentence, "at": at, "rule": rule})


def place_of(value: Any) -> Position:
    """The position that a raw value carries."""
    return getattr(value, "position", NOWHERE)


def scalar(value: Any, most: int = limits.NAME) -> Text:
    """The one word or sentence that must stand here, of `most` letters."""
    if isinstance(value, str):
        if not value.strip():
            raise wrong("nothing stands here: write a value, or leave the key out")
        reason = limits.too_much(value, most)
        if reason:
            raise wrong(reason, rule="too-long")
        return value if isinstance(value, Text) else Text(value)
    raise wrong("one value is expected here, not a list or a mapping")


def _text(value: Any) -> Text:
    return _flat(scalar(value, limits.TEXT))


def _name(value: Any) -> Text:
    return _flat(scalar(value))


def _flat(text: Text) -> Text:
    reason = limits.too_deep(text)
    if reason:
        raise wrong(reason, rule="too-deep")
    return text


def _word(value: Any) -> Text:
    return scalar(value)


def _id(value: Any) -> Text:
    text = scalar(value, limits.ID)
    if not _ID.fullmatch(text):
        raise wrong(f"“{text}” is no id: lower-case words joined by hyphens, like “pump-unit”")
    return text


def _step_id(value: Any) -> Text:
    text = scalar(value, limits.ID)
    if not _STEP_ID.fullmatch(text) or text.isdigit():
        raise wrong(f"“{text}” is no step id: lower-case words joined by hyphens, like “close-valves”")
    if text == PREVIOUS:
        raise wrong(f"“{PREVIOUS}” always names the step above: give this one another id")
    return text


def _step_ref(value: Any) -> StepRef:
    text = scalar(value)
    task, _, steps = text.partition("/")
    if not _ID.fullmatch(task) or not _STEP_PATH.fullmatch(steps):
        raise wrong(f"“{text}” names no step: write it as “task/step”")
    return StepRef(text, place_of(text))


GO_ON, LEAVE = "go on", "leave the task"
"""What may follow a case, besides a step: what is planned next, or all that follows but for the task."""


def _then(value: Any) -> Text:
    words = scalar(value)
    return Text(words, place_of(value)) if words in (GO_ON, LEAVE) else _step_name(value)


def _step_name(value: Any) -> StepRef:
    text = scalar(value)
    if not _STEP_PATH.fullmatch(text):
        raise wrong(f"“{text}” names no step: write it as “task/step”, or as “step” within its task")
    return StepRef(text, place_of(text))


def _flow_ref(value: Any) -> StepRef:
    text = scalar(value)
    return _step_ref(text) if "/" in text else StepRef(_id(text), place_of(text))


def _number(value: Any) -> float:
    text = scalar(value)
    if not re.fullmatch(rf"[+-]?{NUMBER_PATTERN}", text):
        raise wrong(f"“{text}” is no number: write it like “4.5” or “-2”")
    return float(text)


def _whole(value: Any) -> int:
    text = scalar(value)
    if not re.fullmatch(r"-?[0-9]{1,9}", text):
        raise wrong(f"“{text}” is no whole number: write it in at most nine digits, like “12”")
    return int(text)


def _yes_or_no(value: Any) -> bool:
    text = scalar(value)
    if text not in ("true", "false"):
        raise wrong(f"“{text}” is a word here: write “true” or “false”")
    return text == "true"


def _ref(*kinds: str, part: bool = False) -> Callable[[Any], Ref]:
    def read(value: Any) -> Ref:
        text = scalar(value)
        identifier, mark, rest = text.partition("#") if part else (text, "", "")
        if not _ID.fullmatch(identifier) or (mark and not rest):
            raise wrong(f"“{text}” is no id: lower-case words joined by hyphens, like “pump-unit”")
        return Ref(identifier, place_of(text), kinds, rest)

    return read


def _address(value: Any) -> Address:
    text = scalar(value)
    kind, colon, rest = text.partition(":")
    identifier, _, part = rest.partition("#")
    if colon != ":" or not _ID.fullmatch(identifier):
        raise wrong(f"“{text}” names no record: write it as “kind:id”, like “tool:torque-driver”")
    return Address(identifier, place_of(text), (kind,), part)


def as_list(value: Any) -> Any:
    """One value stands for a list of one."""
    if isinstance(value, list):
        return value
    one = RawList([value])
    one.position = place_of(value)
    return one


def as_names(value: Any) -> Any:
    """One word, or a list of words, stands for a mapping of these words with nothing more said of them."""
    if isinstance(value, dict):
        return value
    words = _each_once(tuple(scalar(word) for word in as_list(value)))
    wide = RawMap()
    wide.position = place_of(value)
    for word in words:
        wide[word] = RawMap()
        wide[word].position = place_of(word)
    return wide


def _each_once(entries: tuple[Any, ...]) -> tuple[Any, ...]:
    seen: set[tuple[str, str]] = set()
    for number, entry in enumerate(entries):
        name = str(entry), getattr(entry, "part", "")
        if name in seen:
            raise wrong(f"“{entry}” stands in this list for the second time: take one out", at=number)
        seen.add(name)
    return entries


def schema_of(pattern: str = "", example: str = "", kind: str = "string") -> WithJsonSchema:
    """What the JSON Schema says of a value: its type, its whole pattern, an example."""
    schema: dict[str, Any] = {"type": kind}
    if pattern:
        schema["pattern"] = f"^{pattern}$"
    if example:
        schema["examples"] = [example]
    return WithJsonSchema(schema)


_ANY_SCALAR = WithJsonSchema({"type": ["string", "number", "boolean"]})

Words = Annotated[Text, PlainValidator(_text), WithJsonSchema({"type": "string", "maxLength": limits.TEXT})]
Name = Annotated[Text, PlainValidator(_name), WithJsonSchema({"type": "string", "maxLength": limits.NAME})]
Word = Annotated[Text, PlainValidator(_word), _ANY_SCALAR]
Rule = Annotated[Text, PlainValidator(_id), schema_of(ID_PATTERN)]
Id = Annotated[Text, PlainValidator(_id), schema_of(ID_PATTERN)]
StepId = Annotated[Text, PlainValidator(_step_id), schema_of(ID_PATTERN)]
Number = Annotated[float, PlainValidator(_number), WithJsonSchema({"type": "number"})]
Whole = Annotated[int, PlainValidator(_whole), WithJsonSchema({"type": "integer"})]
Flag = Annotated[bool, PlainValidator(_yes_or_no), WithJsonSchema({"type": "boolean"})]


_ID_SCHEMA = schema_of(ID_PATTERN)
SortieRef = Annotated[Ref, PlainValidator(_ref("sorties")), _ID_SCHEMA]
TaskRef = Annotated[Ref, PlainValidator(_ref("tasks")), _ID_SCHEMA]
PersonRef = Annotated[Ref, PlainValidator(_ref("people")), _ID_SCHEMA]
SuitRef = Annotated[Ref, PlainValidator(_ref("suits")), _ID_SCHEMA]
PlaceRef = Annotated[Ref, PlainValidator(_ref("places")), _ID_SCHEMA]
ThingRef = Annotated[Ref, PlainValidator(_ref("tools", "bags")), _ID_SCHEMA]
SpotRef = Annotated[Ref, PlainValidator(_ref("places", "bags")), _ID_SCHEMA]
PathRef = Annotated[Ref, PlainValidator(_ref("places", "routes")), _ID_SCHEMA]
EquipmentRef = Annotated[Ref, PlainValidator(_ref("equipment")), _ID_SCHEMA]
CarriedRef = Annotated[Ref, PlainValidator(_ref("tools", "bags", "equipment")), _ID_SCHEMA]
HazardRef = Annotated[Ref, PlainValidator(_ref("hazards")), _ID_SCHEMA]
OutcomeRef = Annotated[Ref, PlainValidator(_ref("outcomes")), _ID_SCHEMA]
FigureRef = Annotated[
    Ref, PlainValidator(_ref("figures", part=True)), schema_of(rf"{ID_PATTERN}(#{ID_PATTERN})?", "pump-front#p14")
]
RecordRef = Annotated[Address, PlainValidator(_address), schema_of(r"[a-z]+:\S+", "tool:torque-driver")]
AfterRef = Annotated[
    StepRef, PlainValidator(_step_ref), schema_of(rf"{ID_PATTERN}/{_PATH_PATTERN}", "swap-pump/close-valves")
]
StepName = Annotated[StepRef, PlainValidator(_step_name), schema_of(_PATH_PATTERN, "swap-pump/close-valves")]
Then = Annotated[
    Text, PlainValidator(_then), schema_of(rf"({GO_ON}|{LEAVE}|{_PATH_PATTERN})", "swap-pump/close-valves")
]
FlowRef = Annotated[StepRef, PlainValidator(_flow_ref), schema_of(rf"{ID_PATTERN}(/{_PATH_PATTERN})?", "swap-pump")]

_ONE_OR_MORE = BeforeValidator(as_list)
_ONCE = AfterValidator(_each_once)
FigureRefs = Annotated[tuple[FigureRef, ...], _ONE_OR_MORE, _ONCE]
PersonRefs = Annotated[tuple[PersonRef, ...], _ONE_OR_MORE, _ONCE]
SomePeople = Annotated[tuple[PersonRef, ...], _ONE_OR_MORE, _ONCE, Field(min_length=1)]
TaskRefs = Annotated[tuple[TaskRef, ...], _ONE_OR_MORE, _ONCE]
SortieRefs = Annotated[tuple[SortieRef, ...], _ONE_OR_MORE, _ONCE]
ThingRefs = Annotated[tuple[ThingRef, ...], _ONE_OR_MORE, _ONCE]
PathRefs = Annotated[tuple[PathRef, ...], _ONE_OR_MORE, _ONCE]
SpotRefs = Annotated[tuple[SpotRef, ...], _ONE_OR_MORE, _ONCE]
HazardRefs = Annotated[tuple[HazardRef, ...], _ONE_OR_MORE, _ONCE]
OutcomeRefs = Annotated[tuple[OutcomeRef, ...], _ONE_OR_MORE, _ONCE]
StepNames = Annotated[tuple[StepName, ...], _ONE_OR_MORE]
FlowRefs = Annotated[tuple[FlowRef, ...], _ONE_OR_MORE]
WordList = Annotated[tuple[Word, ...], _ONE_OR_MORE, _ONCE]
WholeList = Annotated[tuple[Whole, ...], _ONE_OR_MORE]
