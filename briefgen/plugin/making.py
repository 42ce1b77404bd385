"""From the folders to finished HTML: what was found, and every page of ours, before MkDocs touches the site."""

from __future__ import annotations

import gc
import traceback
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from briefgen.build import Examination, examine
from briefgen.findings import Finding, Level, in_order
from briefgen.pages.desk import Desk
from briefgen.pages.kept import KeptPages
from briefgen.pages.pictures import Pictures
from briefgen.pages.prose import prose_findings
from briefgen.pages.site import Site
from briefgen.pages.stale import stale_findings
from briefgen.pages.verdict import Verdict
from briefgen.revision.comparison import Comparison
from briefgen.versions import NoVersion, since


@dataclass(frozen=True)
class Found:
    """A content folder and the prose beside it, examined. `findings` are those of both, in order.

    `since` is what changed since the recorded revision; `unreadable` says why that record can't be read, if so.
    """

    examination: Examination
    findings: tuple[Finding, ...]
    since: Comparison | None = None
    unreadable: str = ""


@dataclass(frozen=True)
class Made:
    """A site of ours, and the inside of each of its pages by uri."""

    site: Site
    html: Mapping[str, str]


def found_in(content: Path, docs: Path, levels: Mapping[str, Level | None], record: Path | None = None) -> Found:
    """Reads and proves the content, and looks through the author's Markdown pages. Raises NoContent.

    `record` is an earlier revision to compare with, where the plan can be proved.
    """
    examination = examine(content, levels)
    prose = prose_findings(docs, examination.reading.root, examination.evidence)
    findings, compared, unreadable = [*examination.findings, *prose], None, ""
    if record is not None and examination.proved:
        try:
            compared = since(record, examination)
            findings += stale_findings(compared, levels)
        except NoVersion as reason:
            unreadable = f"{reason} The option “since” in mkdocs.yml names it."
    return Found(examination, in_order(findings), compared, unreadable)


def made_of(found: Found, directory_urls: bool, kept: KeptPages | None = None) -> Made:
    """The pages of sound content. `kept` remembers what was drawn for the last site and need not be drawn again.

    Raises NoVersion where there is a record to compare with that can't be read.
    """
    if found.unreadable:
        raise NoVersion(found.unreadable)
    examination = found.examination
    pictures = Pictures(examination.reading.root, examination.library)
    verdict = Verdict(found.findings, tuple((one.finding, one.because) for one in examination.accepted))
    desk = Desk(examination.evidence, pictures, verdict, directory_urls, found.since)
    if kept is None:
        site = Site(desk)
        return Made(site, {uri: site.html(uri) for uri in site.pages})
    desk.plots.kept = kept.drawings
    site = Site(desk)
    return Made(site, kept.html(site))


@contextmanager
def in_one_go() -> Iterator[None]:
    """Python's cyclic garbage collector waits.

    All that is made here lives until the site is written: to look through it for garbage again and again takes a
    quarter of the time and finds nothing.
    """
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def own_mistake(error: Exception) -> str:
    """What to tell an author whose content runs into a mistake of this program; enough to report it."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    words = " ".join(str(error).split())
    where = "/".join(Path(last.filename).parts[-3:])
    return (
        f"This is a mistake in briefgen, not in your content: {type(error).__name__}: {words} ({where}, line "
        f"{last.lineno}). Please report it with the content that shows it. Nothing was written."
    )
