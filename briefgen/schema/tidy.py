"""A schema as editors like it: no idle titles, examples as values, words that may look like numbers.

Pure: a schema goes in, another comes out.
"""

from __future__ import annotations

from typing import Any

from briefgen.reading.tree import read_tree
from briefgen.schema.generator import Schema

_OF_SCHEMAS = ("properties", "$defs")
_LISTS = ("anyOf", "allOf", "oneOf")
_SINGLE = ("items", "additionalProperties", "propertyNames")


def tidy(schema: Any) -> Any:
    """The schema with all that is below it. Booleans stay as they are."""
    if not isinstance(schema, dict):
        return schema
    tidied: Schema = {key: _inner(key, value) for key, value in schema.items() if key != "title"}
    if "examples" in tidied:
        # Words stay words, whatever they look like.
        words = _is_free(tidied)
        tidied["examples"] = [one if words else as_value(one) for one in tidied["examples"]]
    return _countable(_wordy(_flat(tidied)))


def reachable(definitions: Schema, start: Any) -> Schema:
    """The definitions that a schema leads to, by name."""
    found: Schema = {}
    waiting = [start]
    while waiting:
        node = waiting.pop()
        if isinstance(node, dict):
            name = str(node.get("$ref", "")).removeprefix("#/$defs/")
            if name and name not in found:
                found[name] = definitions[name]
                waiting.append(definitions[name])
            waiting.extend(node.values())
        elif isinstance(node, list):
            waiting.extend(node)
    return dict(sorted(found.items()))


def _inner(key: str, value: Any) -> Any:
    if key in _OF_SCHEMAS:
        return {name: tidy(schema) for name, schema in value.items()}
    if key in _LISTS:
        return [tidy(schema) for schema in value]
    return tidy(value) if key in _SINGLE else value


def _wordy(schema: Schema) -> Schema:
    """Any word will do where no form is asked for, and YAML takes 12 or true for no word."""
    return {**schema, "type": ["string", "number", "boolean"]} if _is_free(schema) else schema


def _is_free(schema: Schema) -> bool:
    return schema.get("type") == "string" and not {"pattern", "enum", "const"} & set(schema)


def _flat(schema: Schema) -> Schema:
    """Alternatives of alternatives as one list, none twice."""
    if "anyOf" not in schema:
        return schema
    flat: list[Any] = []
    for one in schema["anyOf"]:
        for choice in one["anyOf"] if set(one) == {"anyOf"} else [one]:
            if choice not in flat:
                flat.append(choice)
    return {**schema, "anyOf": flat}


def _countable(schema: Schema) -> Schema:
    """A least or greatest number of values belongs to the list among the alternatives."""
    if "anyOf" not in schema:
        return schema
    counts = {"minLength": "minItems", "maxLength": "maxItems"}
    bounds = {name: schema[key] for key, name in counts.items() if key in schema}
    lists = [{**one, **bounds} if one.get("type") == "array" else one for one in schema["anyOf"]]
    return {**{key: value for key, value in schema.items() if key not in counts}, "anyOf": lists}


def as_value(example: str) -> Any:
    """What a YAML 1.2 reader makes of an example.

    >>> as_value("{rack: [1, 2], sure: true, at: 30 %}")
    {'rack': [1, 2], 'sure': True, 'at': '30 %'}
    """
    tree, findings = read_tree(example, "example")
    if findings:
        raise ValueError(f"the example {example!r} is not YAML: {findings[0].sentence}")
    return _resolved(tree)


def _resolved(node: Any) -> Any:
    if isinstance(node, dict):
        return {str(key): _resolved(value) for key, value in node.items()}
    if isinstance(node, list):
        return [_resolved(value) for value in node]
    return _scalar(str(node))


def _scalar(word: str) -> Any:
    """The core schema of YAML 1.2 (section 10.3.2), as far as contents need it."""
    if word in ("true", "false"):
        return word == "true"
    for number in (int, float):
        try:
            return number(word)
        except ValueError:
            continue
    return word
