"""A cache of its own for each test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from briefgen.cache.folder import Folder


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the entries lie."""
    monkeypatch.setenv("BRIEFGEN_CACHE", str(tmp_path / "caches"))
    return tmp_path / "caches" / "briefgen"


@pytest.fixture
def folder(place: Path) -> Iterator[Folder]:
    found = Folder.opened()
    assert found is not None
    yield found
    found.close()
