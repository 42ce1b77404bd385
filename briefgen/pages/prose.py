"""The author's own Markdown pages: which `kind:id` links in them lead nowhere."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

from briefgen.findings import Finding, Level
from briefgen.model.library import SINGULAR
from briefgen.model.references import links_in
from briefgen.proof.evidence import Evidence
from briefgen.rules.lookup import dead_address
from briefgen.source import Address, Position

_ID = re.compile(r"[a-z0-9-]+")


def prose_findings(folder: Path, root: Path, evidence: Evidence) -> Iterator[Finding]:
    """What is wrong with the links in the Markdown files below a folder; places count from the content folder."""
    for path in sorted(folder.rglob("*.md")):
        try:
            text = path.read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError):
            continue  # MkDocs itself says so
        file = Path(os.path.relpath(path, root)).as_posix()
        for link in filter(_ours, links_in(text, Position(file))):
            for trouble in dead_address(evidence, link):
                yield Finding("broken-link", Level.ERROR, trouble.position, trouble.sentence, write=trouble.write)


def _ours(link: Address) -> bool:
    """What is no kind of ours may be an address of the web, unless it looks like a misspelt kind."""
    return link.kind in SINGULAR or _ID.fullmatch(link) is not None
