"""A version of the content from wherever it is kept: a content folder, or a record of one in a file."""

from __future__ import annotations

from pathlib import Path

from briefgen.build import Examination, examine
from briefgen.findings import Level, count
from briefgen.reading.record import digests, record_text
from briefgen.recorded import NoVersion, recorded
from briefgen.revision.pairing.version import Version


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
