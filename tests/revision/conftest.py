"""A fresh small project for each test that builds a site."""

from __future__ import annotations

from tests.plugin.conftest import project

__all__ = ["project"]
