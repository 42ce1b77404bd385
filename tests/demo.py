"""The demo's content, examined once a test run."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from briefgen.build import Examination, examine

CONTENT = Path(__file__).parent.parent / "content_demo"


@cache
def demo() -> Examination:
    """What is read and proved from the demo."""
    return examine(CONTENT)
