"""YAML as plain words with their places, and everything that is refused."""

from __future__ import annotations

import pytest

from briefgen.findings import Finding
from briefgen.reading.tree import read_tree
from briefgen.source import Position


def only(text: str) -> Finding:
    _, findings = read_tree(text, "a.yaml")
    assert len(findings) == 1
    return findings[0]


def test_every_scalar_stays_the_word_that_was_written() -> None:
    root, findings = read_tree("a: no\nb: 1:30\nc: 010\nd: 1e3\ne: ~\nf: true\ng:\n", "a.yaml")
    assert not findings
    assert dict(root) == {"a": "no", "b": "1:30", "c": "010", "d": "1e3", "e": "~", "f": "true", "g": ""}


def test_every_key_and_value_has_its_place() -> None:
    root, _ = read_tree("tools:\n  hook:\n    stowed: [k1, k2]\n", "a.yaml")
    (key,) = root["tools"]
    assert key.position == Position("a.yaml", 2, 3)
    assert [word.position for word in root["tools"]["hook"]["stowed"]] == [
        Position("a.yaml", 3, 14), Position("a.yaml", 3, 18),
    ]  # fmt: skip


def test_columns_count_characters_and_not_bytes() -> None:
    root, _ = read_tree("größe: {ä: ö, ü: x}\n", "a.yaml")
    assert root["größe"]["ü"].position == Position("a.yaml", 1, 18)


@pytest.mark.parametrize(
    ("text", "rule", "line", "column"),
    [
        ("a: 1\na: 2\n", "duplicate-key", 2, 1),
        ("a: &x 1\nb: *x\n", "alias", 2, 4),
        ("a: !secret 1\n", "custom-tag", 1, 4),
        ("a: !!python/object:os.system [x]\n", "custom-tag", 1, 4),
        ("a: 1\n---\nb: 2\n", "yaml-syntax", 2, 1),
        ("? [a, b]\n: 1\n", "yaml-syntax", 1, 3),
        ("a:\n\t- b\n", "yaml-syntax", 2, 1),
        ("a: [1, 2\nb: 3\n", "yaml-syntax", 1, 4),
        ("a: 'open\n", "yaml-syntax", 1, 4),
    ],
)
def test_a_trap_is_one_finding_at_its_place(text: str, rule: str, line: int, column: int) -> None:
    finding = only(text)
    assert (finding.rule, finding.position) == (rule, Position("a.yaml", line, column))


def test_a_bomb_of_aliases_is_refused_at_its_first_alias() -> None:
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    lines += [f"{new}: &{new} [{', '.join([f'*{old}'] * 9)}]" for old, new in zip("abcdefgh", "bcdefghi", strict=True)]
    assert only("\n".join(lines)).position == Position("a.yaml", 2, 8)


@pytest.mark.parametrize("text", ["[" * 5000, "{a: " * 5000, "- " * 5000 + "x"])
def test_deep_nesting_is_a_finding_and_no_crash(text: str) -> None:
    assert only(text).rule == "too-deep"


def test_an_empty_text_has_no_root() -> None:
    assert read_tree("# only a comment\n", "a.yaml") == (None, ())
