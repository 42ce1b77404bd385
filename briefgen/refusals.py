"""What is said, in one sentence, where something that was asked for can't be done."""

from __future__ import annotations


class CannotRun(Exception):
    """What was asked for can't be done; the message says why and what to do."""
