"""A version of the content from wherever it is kept: a content folder, or a record of one in a file."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from briefgen.build import Examination, examine, spoilt
from briefgen.findings import Level, count
from briefgen.language.nearest import few_guesses
from briefgen.proof.evidence import Evidence
from briefgen.reading.record import BadRecord, digests, read_record, record_text
from briefgen.revision.comparison import Comparison
from briefgen.revision.version import Version


class NoVersion(Exception):
    """There is no version to compare; the message says why and what to do."""


def version_at(path: Path) -> Version:
    """The version in a content folder or a record. Raises NoVersion, and NoContent for a folder without content."""
    if not path.is_dir():
        return recorded(path)
    examination = examine(path)
    if not examination.proved:
        raise NoVersion(_unproved(path, examination))
    return version_of(examination)


def version_of(examination: Examination) -> Version:
    """The version that was examined."""
    return Version(examination.evidence, digests(examination.reading.root, examination.library))


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


def since(record: Path, examination: Examination) -> Comparison:
    """What the examined content has otherwise than a record. Raises NoVersion; the plan must have been proved."""
    return Comparison(recorded(record), version_of(examination))


def record_of(folder: Path) -> str:
    """The record of a content folder. Raises NoVersion where it has errors, and NoContent."""
    examination = examine(folder)
    errors = count(examination.findings)[Level.ERROR]
    if errors:
        raise NoVersion(
            f"This is not recorded: it has {errors} error{'' if errors == 1 else 's'}. "
            f"“briefgen check {folder}” shows what to mend."
        )
    return record_text(folder, examination.library)


def _unproved(path: Path, examination: Examination) -> str:
    errors = count(examination.findings)[Level.ERROR]
    return (
        f"The plan in “{path}” can't be laid out: it has {errors} error{'' if errors == 1 else 's'}. "
        f"“briefgen check {path}” shows what to mend."
    )
