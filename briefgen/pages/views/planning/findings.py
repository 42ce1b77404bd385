"""What the proof found: warnings and advice that are left, and findings that the author accepts, with the reason."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.findings import Finding
from briefgen.language.wording import capital, count
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Link


@dataclass(frozen=True)
class FindingRow:
    """A finding; `because` is the author's reason to accept it, or empty. `rule` leads to the rule's page
    where the site has one.
    """

    level: str
    word: str
    rule: Link
    sentence: str
    where: str
    write: str
    because: str


def pages(context: PageContext) -> Iterator[Page]:
    """The one page."""
    verdict = context.verdict
    yield Page(
        uri="findings",
        title="Findings",
        section="findings",
        template="planning/findings.html",
        icon="findings",
        about="What the proof of the plan found.",
        rows={
            "title": "Findings",
            "rules": context.links.page("rules/index") if context.for_authors else "",
            "open": tuple(_row(context, finding, "") for finding in verdict.findings),
            "accepted": tuple(_row(context, finding, because) for finding, because in verdict.accepted),
            "examined": tuple(
                (context.link("sortie", str(proved.sortie.id)), count(len(proved.plan.steps), "step"))
                for proved in context.sorties
            ),
        },
    )


def _row(context: PageContext, finding: Finding, because: str) -> FindingRow:
    spot = finding.position
    return FindingRow(
        finding.level.value,
        capital(finding.level.value),
        Link(finding.rule, context.links.page(f"rules/{finding.rule}") if context.for_authors else ""),
        finding.sentence,
        f"{spot.file}, line {spot.line}, column {spot.column}",
        finding.write,
        because,
    )
