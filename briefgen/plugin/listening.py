"""What MkDocs and others warn of while they make the pages: it belongs in the panel, beside the findings."""

from __future__ import annotations

import logging

_LOGGER = logging.getLogger("mkdocs")


class Listening(logging.Handler):
    """Warnings between `begin` and `end`, each once, in their order."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self._heard: dict[str, None] = {}

    def emit(self, record: logging.LogRecord) -> None:
        """Called by the logger."""
        self._heard[" ".join(record.getMessage().split())] = None

    def begin(self) -> None:
        """From now on."""
        self._heard = {}
        _LOGGER.addHandler(self)

    def end(self) -> tuple[str, ...]:
        """What was heard; nothing more is."""
        _LOGGER.removeHandler(self)
        return tuple(self._heard)
