"""The last site is the one that would be built: MkDocs has nothing to do but to say that it did it."""

from __future__ import annotations

from jinja2 import Environment
from mkdocs.config.defaults import MkDocsConfig


class _NoTemplates(Environment):
    """What MkDocs asks for the files of the theme: there are none to copy."""

    def list_templates(self, *given: object, **named: object) -> list[str]:
        return []


def expect_nothing(config: MkDocsConfig) -> None:
    """Leaves nothing for MkDocs to build: no page, no template, no file of the theme."""
    config.nav = []
    config.extra_templates = []
    config.theme.static_templates.clear()
    config.theme.get_env = _NoTemplates  # type: ignore[method-assign]
