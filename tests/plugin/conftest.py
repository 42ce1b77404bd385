"""A fresh small project for each test."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plugin.small_site import Project


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return Project(tmp_path)
