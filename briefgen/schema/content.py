"""The JSON Schema of content files, made from the model, and the file that is shipped."""

from __future__ import annotations

import json
from importlib.resources import files

from pydantic.json_schema import models_json_schema

from briefgen.model.fields.values import ID_PATTERN
from briefgen.model.library import KINDS
from briefgen.schema.generator import AuthorsSchema, Schema
from briefgen.schema.tidy import reachable, tidy

DRAFT = "https://json-schema.org/draft/2020-12/schema"
FILE_NAME = "content.schema.json"
EDITOR_LINE = "# yaml-language-server: $schema="
"""What a content file begins with, followed by the way to the schema, to make editors use it."""


def content_schema() -> Schema:
    """The schema of one content file: any kinds, each with records by id."""
    places, definitions = models_json_schema(
        [(kind.model, "validation") for kind in KINDS.values()], by_alias=True, schema_generator=AuthorsSchema
    )
    kinds = {
        kind.key: {
            "description": (kind.model.__doc__ or "").splitlines()[0],
            "type": "object",
            "propertyNames": {"pattern": f"^{ID_PATTERN}$"},
            "additionalProperties": places[kind.model, "validation"],
        }
        for kind in KINDS.values()
    }
    return {
        "$schema": DRAFT,
        "title": "briefgen content",
        "description": "Kinds of records; below each kind the records by id.",
        "type": "object",
        "additionalProperties": False,
        "properties": kinds,
        "$defs": reachable(tidy(definitions)["$defs"], kinds),
    }


def schema_text() -> str:
    """The schema as the text of a file."""
    return json.dumps(content_schema(), ensure_ascii=False, indent=2) + "\n"


def shipped_text() -> str:
    """The schema as it is shipped: `python -m briefgen.schema` writes it anew."""
    return files(__package__).joinpath(FILE_NAME).read_text(encoding="utf-8")
