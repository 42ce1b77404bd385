"""The folder that `briefgen start` writes, examined once a test run."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

from briefgen.build import Examination, examine
from briefgen.start.folder import start_folder


@cache
def started() -> Examination:
    """What is read and proved from a new folder."""
    with tempfile.TemporaryDirectory() as folder:
        start_folder(Path(folder) / "plan")
        return examine(Path(folder) / "plan" / "content")
