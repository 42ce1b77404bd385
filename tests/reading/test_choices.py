"""Words between which a field chooses: whichever is misspelt, the finding says which, where, and what to write."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

import pytest
import yaml
from pydantic import BaseModel

from briefgen.build import examine
from briefgen.model.fields.choices import COLOURS, OTHER_WORDS
from briefgen.model.library import KINDS
from tests.rules.test_examples import lay_out

PERSON = (
    "people: {{ev1: {{label: EV1, post: outside, suit: suit-one, mark: {{pattern: rings, word: R, colour: {}}}}}}}\n"
)
STEP = (
    "tasks: {{t: {{title: T, purpose: P., place: lock, priority: {priority}, steps: [{{who: ev1, do: Go., "
    "takes: 1 min, effort: {effort}, sight: {sight}, rushed: {rushed}}}]}}}}\n"
)
SOUND = {"priority": "required", "effort": "rest", "sight": "clear", "rushed": "together"}
# A file for each field; the braces are where the word stands.
FIELDS = {
    "colour": PERSON,
    "pattern": PERSON.format("red")
    .replace("rings,", "{},")
    .replace("{", "{{")
    .replace("}", "}}")
    .replace("{{}}", "{}"),
    "post": PERSON.format("red").replace("outside", "{}").replace("{", "{{").replace("}", "}}").replace("{{}}", "{}"),
    "signal": "hazards: {{h: {{signal: {}, hazard: It is hot., consequence: It burns., avoid: Stay off.}}}}\n",
    "turning": "tools: {{t: {{stowed: lock, settings: {{loosen: {{turns: 1 turns, turning: {}}}}}}}}}\n",
    **{
        key: STEP.format(**SOUND | {key: "<>"}).replace("{", "{{").replace("}", "}}").replace("<>", "{}")
        for key in SOUND
    },
}


def choices(model: Any = None) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every field of the format that chooses between words: its key and the words."""
    seen: set[Any] = set()
    waiting: list[Any] = [kind.model for kind in KINDS.values()]
    while waiting:
        current = waiting.pop()
        if isinstance(current, type) and issubclass(current, BaseModel) and current not in seen:
            seen.add(current)
            for name, info in current.model_fields.items():
                words = {
                    word for one in _within(info.annotation) if get_origin(one) is Literal for word in get_args(one)
                }
                if words and all(isinstance(word, str) for word in words):
                    yield info.alias or name, tuple(sorted(words))
                waiting += _within(info.annotation)


def _within(annotation: Any) -> list[Any]:
    found = [annotation]
    for one in found:
        found += [inner for inner in get_args(one) if get_origin(one) is not Literal]
    return found


CHOICES = dict(choices())


def told(folder: Path, key: str, word: str) -> list[Any]:
    folder.mkdir()
    lay_out(folder, FIELDS[key].format(word), override=True)
    return [finding for finding in examine(folder).findings if finding.rule == "wrong-value"]


def test_every_field_that_chooses_is_looked_at_here() -> None:
    assert set(CHOICES) == set(FIELDS)


@pytest.mark.parametrize("key", sorted(FIELDS))
def test_a_misspelt_word_is_found_where_it_stands_with_the_line_to_write(key: str, tmp_path: Path) -> None:
    for number, word in enumerate(CHOICES[key]):
        wrong = word[:-2] + word[-1] if len(word) > 3 else word + word[-1]
        [finding] = told(tmp_path / str(number), key, wrong)
        line = (tmp_path / str(number) / finding.position.file).read_text().splitlines()[finding.position.line - 1]
        assert line[finding.position.column - 1 :].startswith(wrong)
        assert yaml.safe_load(finding.write) == {key: word}
        assert all(one in finding.sentence for one in CHOICES[key])


@pytest.mark.parametrize(
    ("word", "meant"),
    [*((word, meant) for word, meant in OTHER_WORDS.items() if meant), *((one.upper(), one) for one in COLOURS)],
)
def test_a_colour_by_another_name_is_one_of_the_eight(word: str, meant: str, tmp_path: Path) -> None:
    [finding] = told(tmp_path / "named", "colour", word)
    assert finding.write == f"colour: {meant}"


@pytest.mark.parametrize("word", ["white", "black", "Grey", "'#b3122f'", "'1'"])
def test_what_is_no_colour_of_marks_is_told_all_eight(word: str, tmp_path: Path) -> None:
    [finding] = told(tmp_path / "none", "colour", word)
    assert all(colour in finding.sentence for colour in COLOURS)
    assert not finding.write
