"""What a build says of its findings, and what MkDocs counts of it."""

from __future__ import annotations

import logging
from collections.abc import Iterable
from typing import TYPE_CHECKING

from mkdocs.exceptions import PluginError
from mkdocs.plugins import get_plugin_logger
from mkdocs.utils import CountHandler

from briefgen.findings import Finding, Level
from briefgen.language.printable import printable
from briefgen.reporters.text import as_text, place_words, summary

if TYPE_CHECKING:
    from briefgen.build import Examination

log = get_plugin_logger("briefgen")


def warned() -> bool:
    """Whether MkDocs has counted a warning, at which it ends a strict build when all is written."""
    counters = (handler for handler in logging.getLogger("mkdocs").handlers if isinstance(handler, CountHandler))
    return any(counter.get_counts() for counter in counters)


def count_no_warnings() -> None:
    """A server must not end because of a warning, even where builds are strict: the panel shows them."""
    logger = logging.getLogger("mkdocs")
    for handler in list(logger.handlers):
        if isinstance(handler, CountHandler):
            logger.removeHandler(handler)


def say(found: Examination) -> None:
    """Logs every finding at its level."""
    says = {Level.ERROR: log.error, Level.WARNING: log.warning, Level.ADVICE: log.info}
    for finding in found.findings:
        says[finding.level](as_text([finding], found.sources).strip())


def stop_if_wrong(findings: Iterable[Finding], strict: bool) -> None:
    """Stops the build; names the first reason again, since `--quiet` shows no warnings."""
    fatal = [one for one in findings if one.level is Level.ERROR or (strict and one.level is Level.WARNING)]
    if fatal:
        first = f"{place_words(fatal[0].position)}: {fatal[0].sentence}"
        raise PluginError(printable(f"The briefing was not built. {summary(fatal)} The first: {first}"))
