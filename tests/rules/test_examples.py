"""Every rule is held to its own page: its wrong example gives its finding at the marked place, its right one none."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest
import yaml

from briefgen.build import examine
from briefgen.findings import Finding, Level
from briefgen.rules.registry import Rule, all_rules
from briefgen.source import Position
from tests.clips import CAPTIONS, webm

RULES = all_rules()
MARK = "▸"
# A sortie for examples that are about something else.
QUIET: dict[str, dict[str, object]] = {
    "tasks": {
        "rest": {
            "title": "Rest", "purpose": "To begin calmly.", "place": "lock",
            "steps": [{"who": "ev1", "do": "Look around.", "takes": "2 min"}],
        }
    },
    "sorties": {"s": {"title": "S", "flow": {"ev1": ["rest"]}, "limits": {"length": "1 h"}}},
}  # fmt: skip
# These are about a whole file (its bytes, its being a link, its type), which no text example can show: see
# tests/reading for theirs, and tests/revision for the one that needs a second version.
WITHOUT_EXAMPLE = {
    "not-utf-8", "unreadable-file", "figure-type", "figure-unsafe", "revision-unchanged", "clip-too-large",
    "clip-length-unknown", "captions-unreadable", "captions-outlast-clip", "callout-outlasts-clip",
    "page-file", "page-html", "page-link",
}  # fmt: skip


def small_world() -> dict[str, dict[str, object]]:
    text = files("briefgen").joinpath("examples/small_world.yaml").read_text(encoding="utf-8")
    world: dict[str, dict[str, object]] = yaml.load(text, Loader=yaml.BaseLoader)
    return world


def lay_out(folder: Path, example: str, override: bool) -> None:
    """The small world and an example as a content folder; the example's records take the place of the world's."""
    world = small_world()
    try:
        ours = yaml.load(example.replace(MARK, ""), Loader=yaml.BaseLoader) if override else {}
    except yaml.YAMLError:
        ours = {}
    for kind, records in (ours or {}).items():
        for identifier in records if isinstance(records, dict) else ():
            world.get(kind, {}).pop(identifier, None)
    world = {kind: records for kind, records in world.items() if records}
    if not {"tasks", "sorties"} & set(ours or {}):
        world |= QUIET
    (folder / "a-small-world.yaml").write_text(yaml.safe_dump(world, allow_unicode=True, sort_keys=False), "utf-8")
    (folder / "example.yaml").write_text(example.replace(MARK, ""), "utf-8")
    for figure in ("front.svg",):
        if (override and "figures" not in (ours or {})) or "callouts" in example:
            (folder / figure).write_text('<svg xmlns="http://www.w3.org/2000/svg"/>', "utf-8")
    if "flag.webm" in example:
        (folder / "flag.webm").write_bytes(webm(seconds=5))
        (folder / "flag.png").write_bytes(b"\x89PNG\r\n\x1a\n")
        (folder / "flag.vtt").write_text(CAPTIONS, "utf-8")


def marked(example: str) -> Position:
    before = example.split(MARK)[0]
    return Position("example.yaml", before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)


def findings(folder: Path, example: str, rule: Rule) -> tuple[Finding, ...]:
    lay_out(folder, example, override=rule.name != "duplicate-id")
    return examine(folder).findings


@pytest.mark.parametrize(
    "rule", [rule for rule in RULES.values() if rule.name not in WITHOUT_EXAMPLE], ids=lambda rule: rule.name
)
def test_the_wrong_example_gives_this_finding_at_the_marked_place(rule: Rule, tmp_path: Path) -> None:
    assert rule.wrong.count(MARK) == 1, "one mark shows where the finding must point"
    found = [finding for finding in findings(tmp_path, rule.wrong, rule) if finding.rule == rule.name]
    assert [finding.position for finding in found] == [marked(rule.wrong)]
    assert found[0].sentence[0] not in "abcdefghijklmnopqrstuvwxyz"
    assert found[0].sentence.rstrip().endswith((".", "?", "!"))
    assert_can_be_pasted(found[0], tmp_path)


def assert_can_be_pasted(finding: Finding, folder: Path) -> None:
    """The line to write, if there is one, is YAML by itself: a key with a value, a step, or a single value."""
    if not finding.write:
        return
    written = yaml.load(finding.write, Loader=yaml.BaseLoader)
    assert isinstance(written, str) or len(written) == 1, finding.write
    assert finding.write_at is not None
    lines = (folder / finding.write_at.file).read_text("utf-8").splitlines()
    assert finding.write_at.column <= len(lines[finding.write_at.line - 1]), "it goes where something stands"


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.name)
def test_the_right_example_gives_no_such_finding_and_no_error(rule: Rule, tmp_path: Path) -> None:
    found = findings(tmp_path, rule.right, rule)
    assert [finding for finding in found if finding.rule == rule.name] == []
    assert [finding for finding in found if finding.level is Level.ERROR] == []


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.name)
def test_a_rule_says_what_it_checks_and_why_it_matters(rule: Rule) -> None:
    summary, blank, why = rule.text.partition("\n\n")
    assert summary.endswith(".")
    assert blank
    assert len(why.split()) >= 8
    assert rule.right
