"""The timeline as CSV (RFC 4180): a header line, lines that end with CR LF, several people joined by a blank.

Words that a spreadsheet could take for a formula get an apostrophe in front, as is common practice (no source): to have
the words again, take one apostrophe away where `=`, `+`, `-`, `@`, a tab, a line end or an apostrophe follows it.
Numbers are numbers.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from typing import Any

from briefgen.export.rows import case_lines, rows_of
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.registry import tables

COLUMNS = (
    "sortie", "kind", "start_s", "end_s", "elapsed", "utc", "people", "task", "step", "what", "place", "from", "to",
    "metres", "waits_for", "waits_until", "slack_s", "critical", "in_case",
)  # fmt: skip

# Blanks ahead of it are skipped by some programs; an apostrophe of the author's is marked, too, to be told from ours.
# The wide forms of these signs (U+FF1D and the like) count in some programs.
_FORMULA = re.compile(r"\s*[=+\-@\t\r\n＝＋－＠]|'")


def as_csv(sorties: Iterable[SortieEvidence]) -> str:
    """All sorties below one header."""
    stream = io.StringIO(newline="")
    writer = csv.DictWriter(stream, COLUMNS, lineterminator="\r\n")
    writer.writeheader()
    for proved in sorties:
        writer.writerows({key: _cell(value) for key, value in _flat(proved, row).items()} for row in rows_of(proved))
    return stream.getvalue()


def _flat(proved: SortieEvidence, row: dict[str, Any]) -> dict[str, Any]:
    """The row with its cases in words; a blank cell where it has none."""
    step = proved.plan.step(row["step"]) if row["in_case"] else None
    return {**row, "in_case": " ".join(case_lines(proved, step)) if step else None}


def tables_as_csv(sorties: Iterable[SortieEvidence], names: Iterable[str]) -> str:
    """The named tables of every sortie, one below the other, each with its title and its own header.

    Raises KeyError for a name that no table has.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    names = tuple(names)
    for proved in sorties:
        for table in (table for name in names for table in tables()[name].make(proved)):
            writer.writerow([_cell(f"{proved.sortie.title}: {table.title}")])
            writer.writerow([column.head for column in table.columns])
            writer.writerows([_cell(cell.words) for cell in row] for row in table.rows)
    return stream.getvalue()


def _cell(value: Any) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    words = " ".join(value) if isinstance(value, list) else value
    return f"'{words}" if isinstance(words, str) and _FORMULA.match(words) else words
