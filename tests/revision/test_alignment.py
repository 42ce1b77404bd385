"""Alignment against textbook examples, against trying everything, and against Python's own difflib."""

from __future__ import annotations

from difflib import SequenceMatcher
from itertools import combinations, pairwise

from hypothesis import given
from hypothesis import strategies as some

from briefgen.revision.pairing.alignment import alignment, alike, rising

LETTERS = some.lists(some.sampled_from("abcd"), max_size=8)


def test_the_examples_of_the_textbook() -> None:
    """T. H. Cormen and others, Introduction to Algorithms, section “Longest common subsequence”, from memory."""
    assert len(alignment("ABCBDAB", "BDCABA")) == 4
    one, other = "ACCGGTCGAGTGCGCGGAAGCCGGCCGAA", "GTCGTTCGGAATGCCGTTGCTCTGTAAA"
    found = "".join(one[i] for i, _ in alignment(one, other))
    assert len(found) == len("GTCGTCGGAAGCCGGCCGAA")
    assert _within(found, one)
    assert _within(found, other)


def _within(part: str, whole: str) -> bool:
    rest = iter(whole)
    return all(letter in rest for letter in part)


@given(LETTERS, LETTERS)
def test_it_is_common_rising_and_as_long_as_any(old: list[str], new: list[str]) -> None:
    pairs = alignment(old, new)
    assert all(old[i] == new[j] for i, j in pairs)
    assert all(i < k and j < m for (i, j), (k, m) in pairwise(pairs))
    longest = max(
        size
        for size in range(len(old) + 1)
        if any(_within("".join(part), "".join(new)) for part in combinations(old, size))
    )
    assert len(pairs) == longest


@given(LETTERS, LETTERS)
def test_it_keeps_no_less_than_difflib_and_as_much_backwards(old: list[str], new: list[str]) -> None:
    theirs = sum(block.size for block in SequenceMatcher(None, old, new, autojunk=False).get_matching_blocks())
    assert theirs <= len(alignment(old, new)) == len(alignment(new, old))


@given(some.permutations(range(7)))
def test_what_stayed_rises_and_is_as_long_as_any(numbers: list[int]) -> None:
    stayed = [numbers[index] for index in sorted(rising(numbers))]
    assert stayed == sorted(stayed)
    assert len(stayed) == len(alignment(sorted(numbers), numbers))


@given(some.text("ab ", max_size=12), some.text("ab ", max_size=12))
def test_likeness_is_the_same_both_ways_round(one: str, other: str) -> None:
    assert 0 <= alike(one, other) == alike(other, one) <= 1
    assert alike(one, one) == 1
