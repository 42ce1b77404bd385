"""What the program answers to a content folder: its findings, and the pages where it finds no error."""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path

from briefgen.build import examine
from briefgen.findings import Level, count
from briefgen.pages.desk import Desk  # noqa: F401  loads what pages need before the clock starts
from briefgen.plugin.making import found_in, made_of
from briefgen.reporters.text import as_text


def answer(content: Path) -> str:
    """Checks, says the findings, and makes every page and its pictures where there is no error."""
    examination = examine(content)
    as_text(examination.findings, examination.reading.sources)
    errors = count(examination.findings)[Level.ERROR]
    if errors:
        rules = Counter(one.rule for one in examination.findings if one.level is Level.ERROR)
        return ", ".join(f"{many} {rule}" for rule, many in rules.most_common(3))
    found = found_in(content, content, {})
    pages = made_of(found, True)
    return f"{len(pages.html)} pages"


def main(folder: str) -> None:
    """Prints the seconds and the answer."""
    sys.stdout.reconfigure(encoding="utf-8", errors="backslashreplace")  # type: ignore[union-attr]
    begin = time.perf_counter()
    words = answer(Path(folder))
    print(f"{time.perf_counter() - begin:.2f} {words}")
