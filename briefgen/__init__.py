"""Training briefings for spacewalk crews: from YAML to a proved, cross-linked, offline website."""

__version__ = "0.1.0"
