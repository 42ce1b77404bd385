"""The MkDocs plugin: options, hand-over and serving. The one package that knows MkDocs."""

from briefgen.plugin.hooks import BriefgenPlugin

__all__ = ["BriefgenPlugin"]
