"""Whatever MkDocs logs during a build goes through the printable filter, too: titles and paths are strangers' words."""

from __future__ import annotations

import logging

from briefgen.language.printable import printable


class Filter(logging.Filter):
    """Makes a record's message printable. Several in a row do what one does."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Always lets the record through."""
        record.msg, record.args = printable(record.getMessage()), ()
        return True


_FILTER = Filter()


def keep_printable() -> None:
    """Puts the filter on every handler of MkDocs's log; a handler that has it keeps it."""
    for name in ("mkdocs", ""):
        for handler in logging.getLogger(name).handlers:
            handler.addFilter(_FILTER)
