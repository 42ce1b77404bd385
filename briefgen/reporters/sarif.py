"""Findings as SARIF 2.1.0 (OASIS Standard, 27 March 2020), which code-hosting services show beside the lines.

The numbers in comments are the standard's sections.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from typing import Any

from briefgen import __version__
from briefgen.findings import Finding, Level, in_order
from briefgen.reporters.pages import RuleAddress, no_site
from briefgen.reporters.places import path_of, uri_of
from briefgen.rules.registry import Rule
from briefgen.source import Position

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.ADVICE: "note"}  # 3.27.10
_ROOT = "CHECKED_FROM"


def as_sarif(
    findings: Iterable[Finding],
    sources: Mapping[str, Sequence[str]],
    rules: Mapping[str, Rule],
    prefix: str = "",
    page: RuleAddress = no_site,
) -> str:
    """A log file with one run. `prefix` is the content folder as seen from where the check was run; `page` finds the
    rules' pages.
    """
    found = in_order(findings)
    names = sorted({*rules, *(finding.rule for finding in found)})
    index = {name: number for number, name in enumerate(names)}
    files = sorted({finding.position.file for finding in found if finding.position.file})
    run = {
        "tool": {"driver": {
            "name": "briefgen",
            "semanticVersion": __version__,
            "rules": [_descriptor(name, rules.get(name), page(name)) for name in names],
        }},
        "columnKind": "unicodeCodePoints",  # 3.14.17
        "originalUriBaseIds": {_ROOT: {"description": {"text": "The folder in which the check was run."}}},  # 3.14.14
        "artifacts": [{"location": _artifact(Position(file), prefix)} for file in files],
        "results": [_result(finding, index[finding.rule], sources, prefix) for finding in found],
    }  # fmt: skip
    return json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, ensure_ascii=False, indent=2)


def _descriptor(name: str, rule: Rule | None, address: str) -> dict[str, Any]:
    """A rule (3.49); its page goes along, so that it can be read where the finding is."""
    if rule is None:
        return {"id": name}
    head, _, rest = rule.text.partition("\n\n")
    why = " ".join(rest.split())
    page = f"{head}\n\n{why}\n\nWrong:\n\n```yaml\n{rule.wrong}\n```\n\nRight:\n\n```yaml\n{rule.right}\n```\n"
    link = {"helpUri": address} if address else {}  # 3.49.12
    return {
        "id": name,
        **link,
        "shortDescription": {"text": " ".join(head.split())},
        "fullDescription": {"text": f"{' '.join(head.split())} {why}".strip()},
        "help": {"text": page.replace("```yaml\n", "").replace("```\n", ""), "markdown": page},
        "defaultConfiguration": {"level": _LEVELS[rule.level]},
        "properties": {"family": rule.family},
    }


def _result(finding: Finding, number: int, sources: Mapping[str, Sequence[str]], prefix: str) -> dict[str, Any]:
    words = finding.sentence + (f" Write: {finding.write}" if finding.write else "")
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": number,
        "level": _LEVELS[finding.level],
        "message": {"text": words},
        "locations": [_location(finding.position, sources, prefix)] if finding.position.file else [],
        "partialFingerprints": {"sentence/v1": _fingerprint(finding, prefix)},  # 3.27.17
    }
    related = [
        {**_location(one.position, sources, prefix), "id": place, "message": {"text": one.words}}
        for place, one in enumerate(finding.related, start=1)
        if one.position.file
    ]
    return {**result, "relatedLocations": related} if related else result


def _fingerprint(finding: Finding, prefix: str) -> str:
    """The same finding keeps it when only its line moves."""
    words = "\n".join((finding.rule, path_of(finding.position, prefix), finding.sentence))
    return sha256(words.encode()).hexdigest()


def _location(position: Position, sources: Mapping[str, Sequence[str]], prefix: str) -> dict[str, Any]:
    physical: dict[str, Any] = {"artifactLocation": _artifact(position, prefix)}
    if position.line:
        physical["region"] = {"startLine": position.line, "startColumn": position.column}
        lines = sources.get(position.file, ())
        if position.line <= len(lines):
            physical["region"]["snippet"] = {"text": lines[position.line - 1]}
    return {"physicalLocation": physical}


def _artifact(position: Position, prefix: str) -> dict[str, Any]:
    return {"uri": uri_of(position, prefix), "uriBaseId": _ROOT}
