"""What the program answers to a content folder: its findings, and the pages where it finds no error."""

from __future__ import annotations

import time
from collections import Counter
from pathlib import Path

from briefgen.build import Beside, Examination, examine
from briefgen.collecting import in_one_go
from briefgen.export.calendar import NoStart, as_calendar
from briefgen.export.document import as_json as as_document
from briefgen.export.sheet import as_csv
from briefgen.findings import Level, count
from briefgen.pages.publishing.pipeline import made_of
from briefgen.reading.folder import NoContent
from briefgen.reporters.annotations import Service, as_annotations
from briefgen.reporters.machine import as_json
from briefgen.reporters.sarif import as_sarif
from briefgen.reporters.text import as_text
from briefgen.rules.registry import all_rules
from briefgen.terminal.plan import plan_text


def answer(content: Path) -> str:
    """Checks, says the findings, and makes every page where there is no error, as a build does."""
    with in_one_go():
        examination = examine(content, {}, Beside(content / "no-docs"))
        as_text(examination.findings, examination.reading.sources)
        if count(examination.findings)[Level.ERROR]:
            rules = Counter(one.rule for one in examination.findings if one.level is Level.ERROR)
            return ", ".join(f"{many} {rule}" for rule, many in rules.most_common(3))
        pages = made_of(examination, True)
    for html in pages.html.values():
        html.encode()  # as it is written
    return f"{len(pages.html)} pages"


def every_answer(content: Path) -> str:
    """The same, with everything that the commands print or write."""
    try:
        examination = examine(content)
    except NoContent:
        return "no content"
    _reports(examination)
    if examination.proved:
        _views(examination)
    return answer(content)


def _reports(examination: Examination) -> None:
    findings, sources = examination.findings, examination.reading.sources
    as_json(findings).encode()
    as_sarif(findings, sources, all_rules(), "").encode("utf-8", "replace")
    for service in Service:
        as_annotations(findings, service)
    as_text(findings, sources, True, 40)


def _views(examination: Examination) -> None:
    sorties = list(examination.evidence.sorties.values())
    as_csv(sorties)
    as_document(sorties)
    for proved in sorties:
        plan_text(proved, (), 80)
    try:
        as_calendar(sorties)
    except NoStart:
        return


def main(folder: str) -> None:
    """Prints the processor seconds of the check, those of the check and the pages, and the answer."""
    begin = time.process_time()
    examination = examine(Path(folder))
    as_text(examination.findings, examination.reading.sources)
    checked = time.process_time()
    words = answer(Path(folder))
    print(f"{checked - begin:.2f} {time.process_time() - checked:.2f} {words}")
