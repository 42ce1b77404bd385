"""Sentences and words, counted as the standard counts them.

The sentences and their counts are the examples of ASD-STE100 Issue 9, at rules 5.1, 8.4 to 8.7.
"""

from __future__ import annotations

import pytest

from briefgen.language.sentences import count_words, plain, sentences

COUNTED = [
    ("5.1", 14, "Install the three auxiliary screws (2) in the flange of the motor assembly (9)."),
    ("5.1", 20, "WHEN YOU REMOVE THE SHROUD (26), BE CAREFUL NOT TO CAUSE DAMAGE TO THE SURFACE OF THE FLANGE "
                "ASSEMBLY (22)."),
    ("5.1", 25, "Put preservation oil into the unit through the vent hole until the oil level is approximately "
                "6 mm (0.24 inches) below the surface of the flange cover."),
    ("5.1", 10, "Put preservation oil into the unit through the vent hole."),
    ("5.1", 16, "Continue until the oil level is approximately 6 mm (0.24 in) below the surface of the flange cover."),
    ("8.5", 10, "Make sure that the EMER pushbutton switch is released (the EMER legend is off)."),
    ("8.5", 5, "Remove the safety pin (10)."),
    ("8.5", 7, "Installation of a Business Class (B/C) Seat"),
    ("8.5", 11, "Hardware and Software Configuration Check of the In-Flight Entertainment (IFE) System"),
    ("8.6", 10, "Do steps 13 thru 16 a minimum of three times."),
    ("8.6", 6, "The spar box has twenty-one ribs."),
    ("8.6", 10, "Make sure that the temperature in the room is 10 °C."),
    ("8.6", 10, "Make sure that the temperature in the room is 10 degrees Celsius."),
    ("8.6", 4, "The unit weighs 20 kg."),
    ("8.6", 4, "The unit weighs 20 kilograms."),
    ("8.6", 5, "The resistance must be 10 Ω."),
    ("8.6", 5, "The resistance must be 10 ohms."),
    ("8.6", 13, "The maintenance team does a test of this system each day at 10 a.m."),
    ("8.6", 5, "Examine the No. 1 bearing installation."),
    ("8.6", 4, "Tag circuit breaker 36L7."),
    ("8.6", 4, "Release the SHORT-CIRCUIT TEST switch."),
    ("8.7", 7, "Clean the surface with a soap-and-water solution."),
    ("8.7", 4, "Use the trial-and-error method."),
    ("8.7", 3, "Main-gear-door retraction-winch handle"),
]  # fmt: skip


@pytest.mark.parametrize(("number", "words", "sentence"), COUNTED)
def test_words_are_counted_as_in_the_examples_of_the_standard(number: str, words: int, sentence: str) -> None:
    assert count_words(sentence) == words, f"rule {number}"


def test_two_sentences_of_the_standards_example_are_two() -> None:
    """ASD-STE100 Issue 9, rule 5.1, last example."""
    text = (
        "Put preservation oil into the unit through the vent hole. Continue until the oil level is approximately "
        "6 mm (0.24 in) below the surface of the flange cover."
    )
    assert [one.length for one in sentences(text)] == [10, 16]


def test_items_of_a_vertical_list_are_sentences_of_their_own() -> None:
    """ASD-STE100 Issue 9, rule 8.4 and its example."""
    text = (
        "To extinguish a possible fire, portable fire extinguishers are installed in these areas:\n\n"
        "- The cockpit\n- The cabin\n- The cabin sub-compartment\n- The crew rest compartment.\n"
    )
    assert [one.length for one in sentences(text)] == [13, 2, 2, 3, 4]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Set it to 9.5 V. Wait.", ["Set it to 9.5 V.", "Wait."]),
        ("See No. 3 on the panel. Then go.", ["See No. 3 on the panel.", "Then go."]),
        ("Do it at approx. 5 m, e.g. At the rail.", ["Do it at approx. 5 m, e.g. At the rail."]),
        ("Is it shut? Say so!", ["Is it shut?", "Say so!"]),
        ("Say “Feed A is open.” Wait.", ["Say “Feed A is open.”", "Wait."]),
        ("One line\nand the next.", ["One line and the next."]),
        ("…", []),
        ("", []),
    ],
)
def test_a_text_falls_into_its_sentences(text: str, expected: list[str]) -> None:
    assert [one.words for one in sentences(text)] == expected


def test_markdown_is_no_part_of_the_words() -> None:
    assert plain("Take **the** [torque driver](tool:torque-driver), *slowly*.") == "Take the torque driver, slowly."
    assert count_words(plain("Take [the torque driver](tool:torque-driver).")) == 4
    assert plain("2 * 3 and snake_case_word") == "2 * 3 and snake_case_word"
