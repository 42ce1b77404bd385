"""The JSON Schema of a learner's exported results, made from the model, and the file that is shipped."""

from __future__ import annotations

import json

from pydantic import TypeAdapter

from briefgen.practice.results import Results
from briefgen.schema.content import DRAFT

RESULTS_FILE = "practice-results.schema.json"


def results_schema_text() -> str:
    """The schema as the text of a file."""
    schema = {"$schema": DRAFT, **TypeAdapter(Results).json_schema()}
    return json.dumps(schema | {"title": "briefgen practice results"}, ensure_ascii=False, indent=2) + "\n"
