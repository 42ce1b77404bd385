"""Sorties that have changed since the recorded revision and still say the same one, as findings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.findings import Finding, Level
from briefgen.revision.comparison import Comparison
from briefgen.revision.saying import stale_words
from briefgen.rules.revisions import STALE


def stale_findings(since: Comparison, levels: Mapping[str, Level | None]) -> Iterator[Finding]:
    """One for each such sortie; none where the rule is turned off."""
    level = levels.get(STALE, Level.WARNING)
    for letter in since.letters:
        if letter.stale and level is not None:
            sortie = since.pair.new.library.sorties[letter.sortie]
            spot = sortie.spot("revision") if letter.now else sortie.id.position
            yield Finding(STALE, level, spot, stale_words(since, letter), write=letter.write)
