"""The author's own Markdown pages: which `kind:id` links in them lead nowhere."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

from briefgen.findings import Finding, Level
from briefgen.model.library import SINGULAR
from briefgen.proof.evidence import Evidence
from briefgen.rules.references import _unknown as reference_troubles
from briefgen.source import Position, Ref

# What stands between fences or back-ticks is shown, not followed.
_CODE = re.compile(r"^(?P<fence>```+|~~~+).*?^(?P=fence)[`~]*\s*$|(?P<ticks>`+)(?!`).*?(?<!`)(?P=ticks)(?!`)",
                   re.DOTALL | re.MULTILINE)  # fmt: skip
# An address in brackets after a link's words, or after the colon of a link that is defined once for many.
_ADDRESS = re.compile(r"\](?:\(|:)[ \t]*<?([a-z]+):([^\s#>)]+)(?:#([^\s>)]+))?")
_ID = re.compile(r"[a-z0-9-]+")
_NOT_OURS = ("tel", "sms")  # the only addresses of the web that look like `kind:id`


def prose_findings(folder: Path, root: Path, evidence: Evidence) -> Iterator[Finding]:
    """What is wrong with the links in the Markdown files below a folder; places count from the content folder."""
    for path in sorted(folder.rglob("*.md")):
        try:
            text = path.read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError):
            continue  # MkDocs itself says so
        file = Path(os.path.relpath(path, root)).as_posix()
        for ref in _references(_without_code(text), file):
            for trouble in reference_troubles(evidence, ref):
                yield Finding("broken-link", Level.ERROR, trouble.position, trouble.sentence, write=trouble.write)


def _references(text: str, file: str) -> Iterator[Ref]:
    for found in _ADDRESS.finditer(text):
        kind, identifier, part = found[1], found[2], found[3] or ""
        # What is no kind of ours may be an address of the web, unless it looks like a misspelt kind.
        if kind in SINGULAR or (_ID.fullmatch(identifier) and kind not in _NOT_OURS):
            before = text[: found.start(1)]
            column = found.start(1) - before.rfind("\n")
            yield Ref(identifier, Position(file, before.count("\n") + 1, column), (kind,), part)


def _without_code(text: str) -> str:
    """The text with its code blanked, every other character in its place."""
    return _CODE.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text)
