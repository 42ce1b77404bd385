"""Findings as JSON: all that a finding holds, in order, in a form that says its version."""

from __future__ import annotations

import json

from briefgen.reporters.machine import as_json
from tests.reporters.samples import FINDINGS, PUMP


def test_everything_a_finding_holds_is_there() -> None:
    document = json.loads(as_json(FINDINGS))
    assert document["format"] == 1
    assert document["count"] == {"error": 3, "warning": 1, "advice": 1}
    assert [row["rule"] for row in document["findings"]] == [
        "no-programme", "not-utf-8", "unknown-key", "unused-record", "long-sentence",
    ]  # fmt: skip
    assert document["findings"][2] == {
        "rule": "unknown-key",
        "explained_by": "briefgen rule unknown-key",
        "page": None,
        "level": "error",
        "file": PUMP,
        "line": 3,
        "column": 5,
        "sentence": "“purpos” is no key of task “swap-pump”. Did you mean “purpose”?",
        "related": [{"file": PUMP, "line": 2, "column": 3, "words": "the task begins here"}],
        "write": "purpose: …",
        "write_at": {"file": PUMP, "line": 3, "column": 5},
    }
    assert document["findings"][4]["write_at"] == {"file": "tools.yaml", "line": 2, "column": 9}


def test_no_findings_are_an_empty_list() -> None:
    assert json.loads(as_json([])) == {"format": 1, "count": {"error": 0, "warning": 0, "advice": 0}, "findings": []}
