"""Which module of rules a rule stands in: what tests of one concept pick their rules by."""

from __future__ import annotations

from briefgen.rules.registry import Rule


def module_of(rule: Rule) -> str:
    """The last part of the name of the module that checks a rule; empty where the check lies elsewhere."""
    return rule.check.__module__.rpartition(".")[2] if rule.check else ""
