"""The panel of findings on every page while somebody writes: put into pages as they are served, never into a site.

Plain HTML with a style of its own, so that it looks the same in any theme and works without a script.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from html import escape
from pathlib import Path

import briefgen
from briefgen.findings import Finding, Level, count
from briefgen.pages.html.policy import with_scripts

PLACE = '<div class="bg-panel-place"></div>'
"""Where a page wants the list itself rather than the panel."""

_HERE = Path(briefgen.__file__).parent / "assets" / "writing"
_WORDS = {
    Level.ERROR: ("error", "errors"),
    Level.WARNING: ("warning", "warnings"),
    Level.ADVICE: ("piece of advice", "pieces of advice"),
}
_TITLE = re.compile(r"<title>", re.IGNORECASE)


@dataclass(frozen=True)
class Panel:
    """What the panel says. `trouble` is a sentence about what is no finding; `held` says that pages are of `since`.

    `warned` is what others warn of who made the pages, MkDocs above all. `rule_page` gives the address of a rule's
    page from anywhere in the site.
    """

    findings: tuple[Finding, ...] = ()
    trouble: str = ""
    held: bool = False
    since: str = ""
    warned: tuple[str, ...] = ()
    rule_page: Callable[[str], str] = "/rules/{}.html".format

    @property
    def heading(self) -> str:
        """How many of each level; empty where there is nothing to say."""
        tally = count(self.findings)
        tally[Level.WARNING] += len(self.warned)
        said = [f"{many} {_WORDS[level][many != 1]}" for level, many in tally.items() if many]
        return ", ".join(said) or ("Not built" if self.trouble else "")


def with_panel(page: str, panel: Panel) -> str:
    """A served page with the panel in it, and the count in its title; the page itself where nothing is wrong."""
    if not panel.heading:
        return page
    page = _TITLE.sub(lambda tag: f"{tag[0]}{escape(panel.heading)}: ", page, count=1)
    if PLACE in page:
        return page.replace(PLACE, f"{_style()}<div class='bg-panel bg-panel--here'>{_inside(panel)}</div>", 1)
    before, end, after = with_scripts(page, [PANEL_SCRIPT]).rpartition("</body>")
    return f"{before}{_panel(panel)}{end}{after}" if end else f"{page}{_panel(panel)}"


def _panel(panel: Panel) -> str:
    errors = any(finding.level is Level.ERROR for finding in panel.findings) or panel.held
    level = (
        "error"
        if errors
        else panel.findings[0].level.value
        if len(panel.findings) == 1 and not panel.warned
        else "warning"
    )
    key = sha256(f"{panel.findings}{panel.trouble}{panel.warned}".encode()).hexdigest()[:16]
    return (
        f'{_style()}<aside class="bg-panel" aria-label="Findings in the content" data-key="{key}">'
        f'<details{" open" if errors else ""}><summary data-level="{level}"><span class="bg-panel__sign" aria-hidden='
        f'"true"></span>{escape(panel.heading)}</summary><div class="bg-panel__list" tabindex="0" role="group" '
        f'aria-label="List of findings">{_inside(panel)}</div></details></aside><script>{PANEL_SCRIPT}</script>'
    )


def _style() -> str:
    return f"<style>{_asset('panel.css')}</style>"


def _inside(panel: Panel) -> str:
    return "".join(_pieces(panel))


def _pieces(panel: Panel) -> Iterator[str]:
    if panel.held:
        yield (
            '<p class="bg-panel__held"><strong>These pages are older than your content.</strong> They show the last '
            f"good state, built at {escape(panel.since)}, and are built anew as soon as the errors are mended.</p>"
        )
    if panel.trouble:
        yield f"<p>{escape(panel.trouble)}</p>"
    if panel.findings:
        yield f"<ol>{''.join(_item(finding, panel) for finding in _worst_first(panel.findings))}</ol>"
    if panel.warned:
        lines = "".join(f"<li>{escape(line)}</li>" for line in panel.warned)
        yield f"<p>MkDocs itself warns, and a strict build stops at it:</p><ul>{lines}</ul>"


def _worst_first(findings: Iterable[Finding]) -> list[Finding]:
    return sorted(findings, key=lambda finding: finding.level.rank)


def _item(finding: Finding, panel: Panel) -> str:
    spot = finding.position
    where = f"{spot.file}:{spot.line}:{spot.column}" if spot.line else spot.file or "the content folder"
    related = "".join(
        f"<p>See <code>{escape(str(one.position))}</code>: {escape(one.words)}</p>" for one in finding.related
    )
    return (
        f'<li data-level="{finding.level}"><p><span class="bg-panel__level">{finding.level}</span> '
        f"<code>{escape(where)}</code></p><p>{escape(finding.sentence)}</p>{related}{_way_out(finding)}"
        f'<p>Rule: <a href="{escape(panel.rule_page(finding.rule))}">{escape(finding.rule)}</a></p></li>'
    )


def _way_out(finding: Finding) -> str:
    if not finding.write:
        return ""
    at = finding.write_at if finding.write_at != finding.position else None
    where = f" at <code>{escape(str(at))}</code>" if at else ""
    return f"<p>Write{where}:</p><pre><code>{escape(finding.write)}</code></pre>"


@cache
def _asset(name: str) -> str:
    return (_HERE / name).read_text(encoding="utf-8")


PANEL_SCRIPT = _asset("panel.js")
"""The script of the panel, the same on every page."""
