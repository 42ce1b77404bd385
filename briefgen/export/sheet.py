"""The timeline as CSV (RFC 4180): a header line, lines that end with CR LF, several people joined by a blank."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from typing import Any

from briefgen.export.rows import rows_of
from briefgen.proof.evidence import SortieEvidence

COLUMNS = (
    "sortie", "kind", "start_s", "end_s", "elapsed", "utc", "people", "task", "step", "what", "place", "from", "to",
    "metres", "waits_for", "slack_s", "critical",
)  # fmt: skip


def as_csv(cases: Iterable[SortieEvidence]) -> str:
    """All sorties below one header."""
    stream = io.StringIO(newline="")
    writer = csv.DictWriter(stream, COLUMNS, lineterminator="\r\n")
    writer.writeheader()
    for case in cases:
        writer.writerows({key: _cell(value) for key, value in row.items()} for row in rows_of(case))
    return stream.getvalue()


def _cell(value: Any) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return " ".join(value) if isinstance(value, list) else value
