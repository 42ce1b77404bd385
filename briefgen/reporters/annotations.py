"""Findings as the lines (or the report) that a CI service turns into remarks beside the changed files.

Each form is written after the service's own documentation, from memory. Without a known service the lines have the
form of compiler messages (GNU Coding Standards, section 4.4), which editors and most services pick up.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from hashlib import sha256

from briefgen.findings import Finding, Level, in_order
from briefgen.reporters.pages import RuleAddress, no_site
from briefgen.reporters.places import path_of


class Service(StrEnum):
    """Who reads the annotations."""

    PLAIN = "plain"
    GITHUB = "github"
    GITLAB = "gitlab"
    AZURE = "azure"
    TEAMCITY = "teamcity"


# The variable that each service sets in its jobs.
_SIGNS = {
    "GITHUB_ACTIONS": Service.GITHUB,
    "GITLAB_CI": Service.GITLAB,
    "TF_BUILD": Service.AZURE,
    "TEAMCITY_VERSION": Service.TEAMCITY,
}


def service_in(environment: Mapping[str, str]) -> Service:
    """The service in whose job this runs, or PLAIN."""
    return next((service for sign, service in _SIGNS.items() if environment.get(sign)), Service.PLAIN)


def as_annotations(findings: Iterable[Finding], service: Service, prefix: str = "", page: RuleAddress = no_site) -> str:
    """One line a finding (for GitLab, one report). `prefix` is the content folder as seen from the root; `page` finds
    the rules' pages.
    """
    told = [(finding, _words(finding, page(finding.rule))) for finding in in_order(findings)]
    if service is Service.GITLAB:
        return json.dumps([_gitlab(finding, words, prefix) for finding, words in told], ensure_ascii=False, indent=2)
    return "\n".join(_LINES[service](finding, words, prefix) for finding, words in told)


def _words(finding: Finding, page: str) -> str:
    write = f" Write: {finding.write}" if finding.write else ""
    return f"{finding.sentence}{write} Why: {page or f'briefgen rule {finding.rule}'}"


def _plain(finding: Finding, words: str, prefix: str) -> str:
    spot = finding.position
    place = f"{path_of(spot, prefix)}:{spot.line}:{spot.column}" if spot.line else path_of(spot, prefix)
    return f"{place}: {finding.level}: {' '.join(words.split())} [{finding.rule}]"


_GITHUB = {Level.ERROR: "error", Level.WARNING: "warning", Level.ADVICE: "notice"}


def _github(finding: Finding, words: str, prefix: str) -> str:
    spot = finding.position
    fields = {"title": finding.rule}
    if spot.file:
        fields |= {"file": path_of(spot, prefix), "line": str(spot.line or 1), "col": str(spot.column or 1)}
    listed = ",".join(f"{key}={_escaped(value, ':,')}" for key, value in fields.items())
    return f"::{_GITHUB[finding.level]} {listed}::{_escaped(words)}"


def _escaped(words: str, more: str = "") -> str:
    """Per cent, line ends and what else would end a field, as per cent and code."""
    return "".join(f"%{ord(letter):02X}" if letter in "%\r\n" + more else letter for letter in words)


def _azure(finding: Finding, words: str, prefix: str) -> str:
    spot = finding.position
    kind = "error" if finding.level is Level.ERROR else "warning"
    fields = {"type": kind, "code": finding.rule}
    if spot.file:
        fields |= {
            "sourcepath": path_of(spot, prefix),
            "linenumber": str(spot.line or 1),
            "columnnumber": str(spot.column or 1),
        }
    listed = ";".join(f"{key}={_azure_escaped(value)}" for key, value in fields.items())
    return f"##vso[task.logissue {listed}]{_azure_escaped(words)}"


def _azure_escaped(words: str) -> str:
    for sign, code in (("%", "%AZP25"), (";", "%3B"), ("\r", "%0D"), ("\n", "%0A"), ("]", "%5D")):
        words = words.replace(sign, code)
    return words


def _teamcity(finding: Finding, words: str, prefix: str) -> str:
    status = {Level.ERROR: "ERROR", Level.WARNING: "WARNING"}.get(finding.level, "NORMAL")
    spot = finding.position
    place = f"{path_of(spot, prefix)}:{spot.line}:{spot.column}: " if spot.file else ""
    text = _teamcity_escaped(f"{place}{words} [{finding.rule}]")
    return f"##teamcity[message text='{text}' status='{status}']"


def _teamcity_escaped(words: str) -> str:
    signs = {"|": "||", "'": "|'", "\n": "|n", "\r": "|r", "[": "|[", "]": "|]"}
    return "".join(signs.get(letter, letter if ord(letter) < 128 else f"|0x{ord(letter):04X}") for letter in words)


_SEVERITIES = {Level.ERROR: "critical", Level.WARNING: "minor", Level.ADVICE: "info"}


def _gitlab(finding: Finding, words: str, prefix: str) -> dict[str, object]:
    known = "\n".join((finding.rule, path_of(finding.position, prefix), str(finding.position.line), finding.sentence))
    return {
        "description": words,
        "check_name": finding.rule,
        "fingerprint": sha256(known.encode()).hexdigest(),
        "severity": _SEVERITIES[finding.level],
        "location": {"path": path_of(finding.position, prefix), "lines": {"begin": finding.position.line or 1}},
    }


_LINES: Mapping[Service, Callable[[Finding, str, str], str]] = {
    Service.PLAIN: _plain,
    Service.GITHUB: _github,
    Service.AZURE: _azure,
    Service.TEAMCITY: _teamcity,
}
