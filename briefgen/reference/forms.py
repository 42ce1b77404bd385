"""What form a value has, in an author's words, read off the model's types. Knows pydantic; knows no key."""

from __future__ import annotations

import types
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from inspect import getclosurevars
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, BeforeValidator, PlainValidator

from briefgen.model.fields import quantities, values
from briefgen.model.library import KINDS
from briefgen.units import Dimension


@dataclass(frozen=True)
class Form:
    """The form of a value in words, and the parts of a record that it is made of, if any; mostly there is one."""

    words: str
    parts: tuple[type[BaseModel], ...] = ()


_PLAIN: Mapping[Callable[[Any], Any], str] = {
    values._text: "words",
    values._name: "words",
    values._word: "words",
    values._id: "an id",
    values._step_id: "an id",
    values._step_ref: "a step, as `task/step`",
    values._step_name: "a step or block",
    values._then: "`go on`, `leave the task`, or a step",
    values._flow_ref: "a task, or a step as `task/step`",
    values._number: "a number",
    values._whole: "a whole number",
    values._yes_or_no: "`true` or `false`",
    quantities._duration: "a duration, or three points of one",
    quantities._one_duration: "a duration",
    quantities._clock: "an elapsed time, `sunrise` or `sunset`",
    values._address: "any record, as `kind:id`",
}


def form_of(annotation: Any, metadata: tuple[Any, ...] = ()) -> Form:
    """The form of a field. Raises TypeError for a type that the format doesn't know.

    >>> from briefgen.model.fields.values import (ThingRefs)
    >>> form_of(ThingRefs).words
    'one or a list: the id of a tool or bag'
    """
    if get_origin(annotation) is Annotated:
        inner, *more = get_args(annotation)
        return form_of(inner, (*more, *metadata))
    plain = next((one.func for one in metadata if isinstance(one, PlainValidator)), None)
    return Form(_words(plain)) if plain else _composed(annotation, metadata)


def _words(plain: Callable[..., Any]) -> str:
    if plain in _PLAIN:
        return _PLAIN[plain]
    closed = getclosurevars(plain).nonlocals
    if isinstance(closed.get("dimension"), Dimension):
        return _quantity(closed["dimension"])
    if "kinds" in closed:
        singular = " or ".join(KINDS[kind].singular for kind in closed["kinds"])
        return f"the id of {_article(singular)} {singular}" + (", or one `#part` of it" if closed["part"] else "")
    raise TypeError(f"no words for {plain!r}")


def _quantity(dimension: Dimension) -> str:
    return f"{_article(dimension.name)} {dimension.name} ({', '.join(dimension.units)})"


def _composed(annotation: Any, metadata: tuple[Any, ...]) -> Form:
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin in (Union, types.UnionType):
        return _either([form_of(one, metadata) for one in arguments if one is not type(None)])
    if origin is Literal:
        return Form("one of " + ", ".join(f"`{word}`" for word in arguments))
    if origin is tuple:
        inner = form_of(arguments[0])
        return Form(f"{_many(metadata)}: {inner.words}", inner.parts)
    if origin is dict:
        key, value = (form_of(one) for one in arguments)
        short = "a list of words, or " if any(_widens(one, values.as_names) for one in metadata) else ""
        return Form(f"{short}a mapping from {key.words} to {value.words}", value.parts)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return Form(f"a mapping ({annotation.__name__.lower()})", (annotation,))
    raise TypeError(f"no words for {annotation!r}")


def _either(forms: list[Form]) -> Form:
    return Form(" or ".join(form.words for form in forms), tuple(part for form in forms for part in form.parts))


def _many(metadata: tuple[Any, ...]) -> str:
    return "one or a list" if any(_widens(one, values.as_list) for one in metadata) else "a list"


def _widens(one: Any, widen: Callable[[Any], Any]) -> bool:
    return isinstance(one, BeforeValidator) and one.func is widen


def _article(noun: str) -> str:
    return "an" if noun[0] in "aeio" else "a"
