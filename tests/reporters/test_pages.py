"""Findings link to the page of their rule once it is known where the site is."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from briefgen.reporters.annotations import Service, as_annotations
from briefgen.reporters.machine import as_json
from briefgen.reporters.pages import rule_addresses
from briefgen.reporters.sarif import as_sarif
from briefgen.rules.registry import all_rules
from tests.reporters.samples import FINDINGS, SOURCES

SITE = "https://briefings.example/lamp/"
PAGE = "https://briefings.example/lamp/rules/unused-record.html"


def test_json_names_the_page_of_each_rule() -> None:
    rows = json.loads(as_json(FINDINGS, rule_addresses(SITE)))["findings"]
    assert [row["page"] for row in rows if row["rule"] == "unused-record"] == [PAGE]
    assert all(row["page"] for row in rows)


def test_sarif_describes_each_rule_with_the_address_of_its_page() -> None:
    """`helpUri` is an absolute URI (SARIF 2.1.0, 3.49.12), so it is there only where the site is known."""
    with_site, without = (
        json.loads(as_sarif(FINDINGS, SOURCES, all_rules(), "content", *more))["runs"][0]["tool"]["driver"]["rules"]
        for more in ((rule_addresses(SITE),), ())
    )
    assert {rule["id"]: rule.get("helpUri") for rule in with_site}["unused-record"] == PAGE
    assert {rule["id"] for rule in with_site if "helpUri" in rule} == set(all_rules())
    assert not any("helpUri" in rule for rule in without)


@pytest.mark.parametrize("service", list(Service))
def test_annotations_end_with_the_page_or_else_with_the_command(service: Service) -> None:
    assert PAGE.rpartition("/")[2] in as_annotations(FINDINGS, service, "content", rule_addresses(SITE))
    assert "briefgen rule unused-record" in as_annotations(FINDINGS, service, "content")


def test_a_folder_is_linked_as_a_file_whichever_way_its_pages_lie(tmp_path: Path) -> None:
    (tmp_path / "rules" / "not-held").mkdir(parents=True)
    (tmp_path / "rules" / "not-held" / "index.html").write_text("", encoding="utf-8")
    (tmp_path / "rules" / "no-tether.html").write_text("", encoding="utf-8")
    address = rule_addresses(str(tmp_path))
    assert address("not-held") == (tmp_path / "rules/not-held/index.html").as_uri()
    assert address("no-tether") == (tmp_path / "rules/no-tether.html").as_uri()


def test_a_folder_without_pages_of_rules_gives_findings_no_dead_link(tmp_path: Path) -> None:
    (tmp_path / "rules").mkdir()
    assert rule_addresses(str(tmp_path))("not-held") == ""
    rows = json.loads(as_json(FINDINGS, rule_addresses(str(tmp_path))))["findings"]
    assert not any(row.get("page") for row in rows)
