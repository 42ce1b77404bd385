"""Which pages a site has, for whoever asks before they are made."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from briefgen.pages.context import PageContext
from briefgen.pages.html.pictures import Pictures
from briefgen.pages.planning.verdict import Verdict
from briefgen.pages.publishing.site import Site
from briefgen.proof.evidence import Evidence
from briefgen.reading.prose.links import Made


def pages_made(root: Path, evidence: Evidence) -> Made:
    """Whether a sound content folder, proved, has a page of ours at a path: every page is listed at the first question.

    With the pages for authors: whether these are published, nobody knows before the build.
    """

    @cache
    def uris() -> frozenset[str]:
        pictures = Pictures(root, evidence.library)
        return frozenset(Site(PageContext(evidence, pictures, Verdict((), ()), False, None, True)).pages)

    return lambda path: path in uris()
