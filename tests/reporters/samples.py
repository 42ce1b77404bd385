"""Findings to report: one of each level, one without a line, one without a file."""

from __future__ import annotations

from briefgen.findings import Finding, Level, Related
from briefgen.source import NOWHERE, Position

SOURCES = {
    "tasks/pump run.yaml": ("tasks:", "  swap-pump:", "    purpos: The pump leaks; 50 % is gone.", "    steps: []"),
    "tools.yaml": ("tools:", "  hook: {stowed: k9}"),
}
PUMP = "tasks/pump run.yaml"
FINDINGS = (
    Finding(
        "unknown-key", Level.ERROR, Position(PUMP, 3, 5),
        "“purpos” is no key of task “swap-pump”. Did you mean “purpose”?",
        (Related(Position(PUMP, 2, 3), "the task begins here"),), "purpose: …",
    ),
    Finding("unused-record", Level.WARNING, Position("tools.yaml", 2, 3), "Nothing uses the tool “Hook”: it's spare."),
    Finding(
        "long-sentence", Level.ADVICE, Position("tools.yaml", 2, 17), "This sentence has 26 words.",
        write="stowed: k9", write_at=Position("tools.yaml", 2, 9),
    ),
    Finding("not-utf-8", Level.ERROR, Position("notes.yaml", 0, 0), "This file is not UTF-8 text."),
    Finding("no-programme", Level.ERROR, NOWHERE, "There is no programme."),
)  # fmt: skip
