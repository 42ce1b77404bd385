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
from briefgen.rules.references import _unknown as reference_troubles
from briefgen.source import Position

# What stands between fences or back-ticks is shown, not followed.
_CODE = re.compile(r"^(?P<fence>```+|~~~+).*?^(?P=fence)[`~]*\s*$|(?P<ticks>`+)(?!`).*?(?<!`)(?P=ticks)(?!`)",
                   re.DOTALL | re.MULTILINE)  # fmt: skip


def prose_findings(folder: Path, root: Path, evidence: Evidence) -> Iterator[Finding]:
    """What is wrong with the links in the Markdown files below a folder; places count from the content folder."""
    for path in sorted(folder.rglob("*.md")):
        try:
            text = path.read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError):
            continue  # MkDocs itself says so
        file = Path(os.path.relpath(path, root)).as_posix()
        for ref in links_in(_without_code(text), Position(file)):
            if ref.kinds[0] in SINGULAR:
                for trouble in reference_troubles(evidence, ref):
                    yield Finding("broken-link", Level.ERROR, trouble.position, trouble.sentence, write=trouble.write)


def _without_code(text: str) -> str:
    """The text with its code blanked, every other character in its place."""
    return _CODE.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text)
