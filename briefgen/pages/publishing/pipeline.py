"""From what was proved to finished HTML: every page of ours, before MkDocs touches the site."""

from __future__ import annotations

import traceback
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from briefgen.build import Examination
from briefgen.pages.context import PageContext
from briefgen.pages.html.pictures import Pictures
from briefgen.pages.planning.verdict import Verdict
from briefgen.pages.publishing.render_cache import KeptPages
from briefgen.pages.publishing.site import Site
from briefgen.pages.publishing.spool import Spool
from briefgen.reading.tree import read_tree
from briefgen.recorded import NoVersion


@dataclass(frozen=True)
class Made:
    """A site of ours, and the inside of each of its pages by uri."""

    site: Site
    html: Mapping[str, str]


def made_of(
    examination: Examination,
    directory_urls: bool,
    kept: KeptPages | None = None,
    *,
    for_authors: bool = True,
    waits_in: Path | None = None,
) -> Made:
    """The pages of sound content, those of the rules only `for_authors`.

    `kept` remembers what was drawn for the last site and need not be drawn again. Without it each page waits on the
    disk, in the folder `waits_in`, as soon as it is made.

    Raises NoVersion where there is a record to compare with that can't be read, OSError where the disk is full.
    """
    if examination.unreadable:
        raise NoVersion(examination.unreadable)
    pictures = Pictures(examination.reading.root, examination.library)
    verdict = Verdict(examination.findings, tuple((one.finding, one.because) for one in examination.accepted))
    context = PageContext(examination.evidence, pictures, verdict, directory_urls, examination.since, for_authors)
    if kept is None:
        read_tree.cache_clear()  # nobody reads these files again, and the rules have looked at every variant
        for proved in context.sorties:
            proved.omissions.forget()
        site, spool = Site(context), Spool(waits_in)
        site.hand_out(spool.put)
        return Made(site, spool)
    context.plots.kept = kept.drawings
    site = Site(context)
    return Made(site, kept.html(site))


def own_mistake(error: Exception) -> str:
    """What to tell an author whose content runs into a mistake of this program; enough to report it."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    words = " ".join(str(error).split())
    where = "/".join(Path(last.filename).parts[-3:])
    return (
        f"This is a mistake in briefgen, not in your content: {type(error).__name__}: {words} ({where}, line "
        f"{last.lineno}). Please report it with the content that shows it. Nothing was written."
    )
