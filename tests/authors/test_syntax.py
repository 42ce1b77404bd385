"""A parser's objections, told to somebody who knows no YAML: the place of the mistake, and the line to write."""

from __future__ import annotations

import pytest
import yaml

from briefgen.reading.syntax import Explained, Objection, Spot, explain


def explained(text: str) -> Explained:
    with pytest.raises(yaml.MarkedYAMLError) as error:
        list(yaml.parse(text, Loader=yaml.SafeLoader))
    mark, since = error.value.problem_mark, error.value.context_mark or error.value.problem_mark
    spots = [(one.line + 1, one.column + 1) for one in (mark, since)]
    return explain(Objection(error.value.problem, spots[0], error.value.context or "", spots[1], text.splitlines()))


@pytest.mark.parametrize(
    ("text", "at", "words", "write"),
    [
        ("tasks:\n\tgo-out: {}\n", (2, 1), "A tab stands here.", ""),
        ("a:\n  title: Sortie 1: the lamp\n", (2, 18), "“title:” have a colon", 'title: "Sortie 1: the lamp"'),
        ("a:\n  purpose Both are out.\n  b: c\n", (2, 3), "missing behind “purpose”.", "purpose: Both are out."),
        ("a:\n  b: c\n  purpose Both.\n  d: e\n", (3, 3), "A colon is missing behind “purpose”.", "purpose: Both."),
        ("a:\n  b: c\n  place:k1\n  d: e\n", (3, 8), "missing behind the colon of “place”.", "place: k1"),
        ("a:\n  b: c\n  standing\n  d: e\n", (3, 3), "These words stand alone", ""),
        ("a:\n  place:k1\n  title: B\n", (2, 8), "A blank is missing behind the colon of “place”.", "place: k1"),
        ("steps:\n  -id: see\n    who: ev1\n", (2, 3), "A blank is missing behind the dash.", "- id: see"),
        ('a:\n  title: "The lamp\n  place: k1\n', (2, 10), "quotation mark that opens here is never closed", ""),
        ("a:\n  sets: {lamp: on\n  after: [b]\n", (2, 9), "The “{” that opens here is not closed", ""),
        ("a:\n  after: [b/c, d/e\n  who: ev1\n", (2, 10), "Write “]” behind the last value.", ""),
        ("a:\n    title: A\n   place: k1\n", (3, 4), "indent it by 4 blanks", ""),
        ("steps:\n  see:\n    who: ev1\n  - id: b\n", (4, 3), "began without one", ""),
        ("- a: b\nc: d\n", (2, 1), "goes on here without a “-”", ""),
        ("a: @home\n", (1, 4), "A value can't begin with “@”", "'@home'"),
        ("a: `x`\n", (1, 4), "A value can't begin with “`”", "'`x`'"),
        ('a: "c:\\dir"\n', (1, 8), "Between double quotes", ""),
        ("a: one\n    b: two\n", (2, 6), "indented deeper than the one before", ""),
    ],
)  # fmt: skip
def test_the_mistake_is_named_where_it_was_made(text: str, at: Spot, words: str, write: str) -> None:
    found = explained(text)
    assert words in found.sentence
    assert (found.at, found.write) == (at, write)


@pytest.mark.parametrize(
    "write", ['title: "Sortie 1: the lamp"', "purpose: Both are out.", "place: k1", "- id: see", "'@home'", "'`x`'"]
)
def test_what_is_to_be_written_is_yaml(write: str) -> None:
    assert yaml.safe_load(write)


def test_anything_else_keeps_the_parsers_words_and_says_where_to_look() -> None:
    found = explain(Objection("something new", (3, 4), "", (3, 4), ()))
    assert found.sentence.startswith("This is not YAML: something new. Look at")
    assert found.at == (3, 4)
