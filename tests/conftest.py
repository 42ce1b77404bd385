"""What tests of every folder share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.browser_tools import launched


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all the tests of a process: Playwright can't be started twice in one thread."""
    with launched() as chromium:
        yield chromium
