"""The JSON Schemas of what browsers export, a learner's results and a rehearsal, and the files that are shipped."""

from __future__ import annotations

import json

from pydantic import TypeAdapter

from briefgen.practice.rehearsal import Rehearsal
from briefgen.practice.results import Results
from briefgen.schema.content import DRAFT

RESULTS_FILE = "practice-results.schema.json"
REHEARSAL_FILE = "rehearsal.schema.json"


def results_schema_text() -> str:
    """The schema of practice results as the text of a file."""
    return _text(Results, "briefgen practice results")


def rehearsal_schema_text() -> str:
    """The schema of a rehearsal as the text of a file."""
    return _text(Rehearsal, "briefgen rehearsal")


def _text(model: type[Results | Rehearsal], title: str) -> str:
    schema = {"$schema": DRAFT, **TypeAdapter(model).json_schema()}
    return json.dumps(schema | {"title": title}, ensure_ascii=False, indent=2) + "\n"
