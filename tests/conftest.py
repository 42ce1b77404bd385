"""What tests of every folder share."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.browser_tools import launched

os.environ["BRIEFGEN_CACHE"] = ""  # a build takes over nothing from another, but where a test says so


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all the tests of a process: Playwright can't be started twice in one thread."""
    with launched() as chromium:
        yield chromium


def pytest_collection_finish() -> None:
    """What is loaded by now stays to the end: the garbage collector need not look through it again and again."""
    gc.freeze()
