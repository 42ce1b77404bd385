"""A version of the content that was recorded in a file, and what has changed since."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from briefgen.findings import Finding, Level
from briefgen.language.nearest import few_guesses
from briefgen.proof.evidence import Evidence
from briefgen.reading.record import BadRecord, read_record
from briefgen.refusals import CannotRun
from briefgen.revision.comparison import Comparison
from briefgen.revision.pairing.version import Version
from briefgen.revision.saying import stale_words
from briefgen.rules.naming.revisions import STALE
from briefgen.rules.stages import spoilt


class NoVersion(CannotRun):
    """There is no version to compare; the message says why and what to do."""


def recorded(path: Path) -> Version:
    """The version in a record. Raises NoVersion."""
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise NoVersion(f"The record “{path}” can't be read: {reason}. “briefgen record” writes one.") from None
    except UnicodeDecodeError:
        raise NoVersion(f"“{path}” is no record: it is not UTF-8 text.") from None
    return _recorded(text, str(path))


@lru_cache(maxsize=2)
def _recorded(text: str, name: str) -> Version:
    """What is proved of a record; kept while serving, where the same record is asked for at every build."""
    try:
        library, figures = read_record(text, name)
    except BadRecord as reason:
        raise NoVersion(str(reason)) from None
    evidence = Evidence(library)
    with few_guesses():
        found = spoilt(evidence)
    if found:
        raise NoVersion(
            f"The plan in the record “{name}” can't be laid out: {found.sentence} Take the record from version control "
            "again, or write it anew from the earlier content."
        )
    return Version(evidence, figures)


def stale(since: Comparison) -> Iterator[Finding]:
    """Sorties that have changed since the recorded revision and still say the same one."""
    for letter in since.letters:
        if letter.stale:
            sortie = since.pair.new.library.sorties[letter.sortie]
            spot = sortie.spot("revision") if letter.now else sortie.id.position
            yield Finding(STALE, Level.WARNING, spot, stale_words(since, letter), write=letter.write)
