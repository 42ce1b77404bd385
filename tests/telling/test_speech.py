"""How long words take to say, against published pairs of words and minutes."""

from __future__ import annotations

import pytest

from briefgen.telling.speech import speaking_seconds, spoken_words
from tests.travel_world import library


@pytest.mark.parametrize(("words", "minutes"), [(500, 3.8), (1000, 7.7), (1500, 11.5), (2000, 15.4)])
def test_words_at_130_a_minute_take_the_published_minutes(words: int, minutes: float) -> None:
    # Source: pages on public speaking, read second-hand (no standard): 130 words a minute, these pairs.
    made = library(
        {
            "programme": {
                "p": {
                    "title": "P",
                    "sorties": ["s"],
                    "paces": {"outside": "9 m/min", "loaded": "5 m/min"},
                    "speaking_rate": "130 words/min",
                }
            }
        }
    )
    assert speaking_seconds(made, "word " * words) / 60 == pytest.approx(minutes, abs=0.06)


def test_without_a_speaking_rate_nothing_is_said_of_time() -> None:
    assert speaking_seconds(library({}), "Some words.") == 0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", 0),
        ("Take **the** [torque driver](tool:torque-driver).", 4),
        ("Don't count the quick-disconnect as two.", 6),
        ("One.\n\nTwo.", 2),
    ],
)
def test_words_are_counted_as_they_are_said(text: str, words: int) -> None:
    assert spoken_words(text) == words
