"""JSON Schema (Draft 2020-12) of pydantic models as an author writes them: one value for a list of one, short forms.

Knows pydantic and the shorthands of the model; knows no kind and no key.
"""

from __future__ import annotations

from collections.abc import Callable
from inspect import getclosurevars
from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from briefgen.model.fields.parts import as_mapping, tool_with_setting
from briefgen.model.fields.values import as_list, as_names

Schema = dict[str, Any]


class AuthorsSchema(GenerateJsonSchema):
    """Differs from pydantic's own in what authors may write, not in what values mean."""

    def nullable_schema(self, schema: Any) -> Schema:
        """A key that may be left out; an empty value is refused all the same."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: Any) -> Schema:
        """Defaults that say something; none that stand for nothing."""
        inner = self.generate_inner(schema["schema"])
        default = schema.get("default")
        return {**inner, "default": default} if isinstance(default, (str, bool, int)) else inner

    def dict_schema(self, schema: Any) -> Schema:
        """A mapping whose keys are ids."""
        keys = self.generate_inner(schema["keys_schema"])
        values = self.generate_inner(schema["values_schema"])
        return {"type": "object", "propertyNames": keys, "additionalProperties": values}

    def function_before_schema(self, schema: Any) -> Schema:
        """The short forms that the model widens before it reads a value."""
        inner = self.generate_inner(schema["schema"])
        return _widened(schema["function"]["function"], inner)


def _widened(widen: Callable[..., Any], inner: Schema) -> Schema:
    if widen is as_list:
        return {"anyOf": [inner["items"], inner]}
    if widen is as_names:
        words = inner["propertyNames"]
        return {"anyOf": [words, {"type": "array", "items": words}, inner]}
    if widen is tool_with_setting:
        return {"anyOf": [inner, _one_pair()]}
    if getattr(widen, "__qualname__", "").startswith(f"{as_mapping.__name__}."):
        key = getclosurevars(widen).nonlocals["key"]
        return {"anyOf": [{"type": "string", "description": f"Stands for {{{key}: …}}."}, inner]}
    return inner


def _one_pair() -> Schema:
    return {"type": "object", "minProperties": 1, "maxProperties": 1, "additionalProperties": {"type": "string"}}
