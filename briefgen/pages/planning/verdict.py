"""What the proof found, for the page that says so."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.findings import Finding


@dataclass(frozen=True)
class Verdict:
    """The findings that are left, and those that the author accepts, each with the reason."""

    findings: tuple[Finding, ...] = ()
    accepted: tuple[tuple[Finding, str], ...] = ()
