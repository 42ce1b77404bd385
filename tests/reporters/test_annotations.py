"""Annotation lines: one finding a line, with nothing in it that would end the line or a field early.

The forms follow each service's documentation, from memory: workflow commands (GitHub Actions), logging commands (Azure
Pipelines), service messages (TeamCity), the code quality report (GitLab). The plain one follows the GNU Coding
Standards, section 4.4, “Formatting Error Messages”.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from briefgen.findings import Finding, Level
from briefgen.reporters.annotations import Service, as_annotations, service_in
from briefgen.reporters.places import prefix_of
from briefgen.source import Position
from tests.reporters.samples import FINDINGS

TRICKY = Finding("x-rule", Level.ERROR, Position("a,b:c.yaml", 3, 7), "50 % of “it's” [all]; | \r\nnext")


@pytest.mark.parametrize("service", [Service.PLAIN, Service.GITHUB, Service.AZURE, Service.TEAMCITY])
def test_every_finding_is_one_line(service: Service) -> None:
    assert len(as_annotations([*FINDINGS, TRICKY], service, "content").splitlines()) == len(FINDINGS) + 1


def test_plain_lines_look_like_compiler_messages() -> None:
    line = as_annotations(FINDINGS[:1], Service.PLAIN, "content")
    assert line.startswith("content/tasks/pump run.yaml:3:5: error: “purpos” is no key")
    assert line.endswith("Write: purpose: … Why: briefgen rule unknown-key [unknown-key]")


def test_github_lines() -> None:
    lines = as_annotations(FINDINGS, Service.GITHUB, "content").splitlines()
    assert lines[0] == "::error title=no-programme::There is no programme. Why: briefgen rule no-programme"
    assert "::warning title=unused-record,file=content/tools.yaml,line=2,col=3::Nothing uses the tool" in lines[3]
    assert lines[4].startswith("::notice title=long-sentence,")


def test_github_escapes_what_would_end_a_field() -> None:
    line = as_annotations([TRICKY], Service.GITHUB)
    assert line == (
        "::error title=x-rule,file=a%2Cb%3Ac.yaml,line=3,col=7::"
        "50 %25 of “it's” [all]; | %0D%0Anext Why: briefgen rule x-rule"
    )


def test_azure_lines() -> None:
    line = as_annotations([TRICKY], Service.AZURE)
    head, _, words = line.partition("]")
    assert head == ("##vso[task.logissue type=error;code=x-rule;sourcepath=a,b:c.yaml;linenumber=3;columnnumber=7")
    assert words == "50 %AZP25 of “it's” [all%5D%3B | %0D%0Anext Why: briefgen rule x-rule"


def test_teamcity_lines() -> None:
    line = as_annotations([TRICKY], Service.TEAMCITY)
    found = re.fullmatch(r"##teamcity\[message text='((?:\|.|[^|'\[\]\r\n])*)' status='ERROR'\]", line)
    assert found
    assert "|[all|]; || |r|nnext" in found[1]


def test_gitlab_gets_its_report() -> None:
    report = json.loads(as_annotations(FINDINGS, Service.GITLAB, "content"))
    assert len(report) == len(FINDINGS)
    assert {"description", "check_name", "fingerprint", "severity", "location"} == set(report[0])
    assert report[2]["location"] == {"path": "content/tasks/pump run.yaml", "lines": {"begin": 3}}
    assert {one["severity"] for one in report} <= {"info", "minor", "major", "critical", "blocker"}
    assert len({one["fingerprint"] for one in report}) == len(FINDINGS)
    assert json.loads(as_annotations([], Service.GITLAB)) == []


@pytest.mark.parametrize(
    ("environment", "service"),
    [
        ({"GITHUB_ACTIONS": "true"}, Service.GITHUB),
        ({"GITLAB_CI": "true"}, Service.GITLAB),
        ({"TF_BUILD": "True"}, Service.AZURE),
        ({"TEAMCITY_VERSION": "2025.1"}, Service.TEAMCITY),
        ({"CI": "true"}, Service.PLAIN),
        ({}, Service.PLAIN),
    ],
)
def test_the_service_is_known_by_the_variable_it_sets(environment: dict[str, str], service: Service) -> None:
    assert service_in(environment) is service


def test_paths_are_seen_from_where_the_check_ran(tmp_path: Path) -> None:
    (tmp_path / "plan" / "content").mkdir(parents=True)
    assert prefix_of(tmp_path / "plan" / "content", tmp_path) == "plan/content"
    assert prefix_of(tmp_path, tmp_path) == ""
    assert prefix_of(tmp_path, tmp_path / "plan") == tmp_path.resolve().as_posix()
