"""Findings as JSON, for programs of one's own.

`format` counts up whenever a key changes its meaning; new keys may come at any time.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from briefgen.findings import Finding, count, in_order
from briefgen.reporters.pages import RuleAddress, no_site
from briefgen.source import Position

FORMAT = 1


def as_json(findings: Iterable[Finding], page: RuleAddress = no_site) -> str:
    """An object with the findings in order, and how many there are of each level; `page` finds the rules' pages."""
    found = in_order(findings)
    document = {
        "format": FORMAT,
        "count": {level.value: many for level, many in count(found).items()},
        "findings": [_row(finding, page) for finding in found],
    }
    return json.dumps(document, ensure_ascii=False, indent=2)


def _row(finding: Finding, page: RuleAddress) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "explained_by": f"briefgen rule {finding.rule}",
        "page": page(finding.rule) or None,
        "level": finding.level.value,
        **_place(finding.position),
        "sentence": finding.sentence,
        "related": [{**_place(one.position), "words": one.words} for one in finding.related],
        "write": finding.write or None,
        "write_at": _place(finding.write_at) if finding.write_at else None,
    }


def _place(position: Position) -> dict[str, Any]:
    return {"file": position.file, "line": position.line, "column": position.column}
