"""Writing advice, held to the examples of the standards that it cites.

Sentences and verdicts marked with a rule number are the examples of ASD-STE100 Issue 9 at that rule.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.rules.registry import all_rules
from briefgen.start.folder import start_folder
from tests.rule_modules import module_of

# The families of rules about how sentences are written.
WRITING = {"lengths", "commands", "conditions", "punctuation", "checks"}


@pytest.fixture
def content(tmp_path: Path) -> Path:
    start_folder(tmp_path)
    return tmp_path / "content"


def rules_for(content: Path, do: str, more: str = "") -> set[str]:
    """The rules with a finding when a step says this."""
    path = content / "tasks.yaml"
    text = path.read_text(encoding="utf-8")
    quoted = do.replace("'", "''")
    path.write_text(text.replace("do: Open the hatch.\n", f"do: '{quoted}'\n{more}", 1), encoding="utf-8")
    return {finding.rule for finding in examine(content).findings if module_of(all_rules()[finding.rule]) in WRITING}


AT_ONCE = [
    "Hold the panel in its open position and install the fastener.",
    "Slowly extend the rod fully and make sure that it does not touch other parts.",
    "Cut and remove the wire.",
    "Remove and discard the seal.",
    "Set the switch to the middle position.",
]


@pytest.mark.parametrize("sentence", AT_ONCE)
def test_actions_at_the_same_time_are_one_instruction(sentence: str, content: Path) -> None:
    """ASD-STE100 rule 5.2, examples in STE."""
    assert rules_for(content, sentence) == set()


@pytest.mark.parametrize(
    "sentence",
    [
        "Set the TEST switch to the middle position and release the SHORT-CIRCUIT TEST switch.",
        "Open the hatch, then take the bag.",
        "Open the hatch and carefully pull the bag out.",
        "When the light is on, open the hatch and take the bag.",
        "Open the hatch. Take the bag.",
        "Unlock the lid and lift it.",
    ],
)
def test_two_actions_one_after_the_other_are_two(sentence: str, content: Path) -> None:
    """ASD-STE100 rule 5.2; the first is its example that is not in STE."""
    assert rules_for(content, sentence) == {"two-instructions"}


@pytest.mark.parametrize(
    "sentence",
    [
        "Look at palm, thumb and finger tips of the glove.",
        "Open the lock and release of the lid.",
        "Strap the tool bag and the unit bag to the wall.",
        "Turn the handle left and right.",
        "Measure the leakage from the port. The leakage must not be more than 0.5 mL.",
        "Take the driver between thumb and press ring.",
    ],
)
def test_nouns_and_results_are_no_second_instruction(sentence: str, content: Path) -> None:
    assert "two-instructions" not in rules_for(content, sentence)


@pytest.mark.parametrize(
    "sentence",
    [
        "The test can be continued.",
        "Oil and grease are to be removed with a degreasing agent.",
        "Before you remove the clamp, you must disconnect the hose.",
        "EV1 opens the hatch.",
        "Finch opens the hatch.",
    ],
)
def test_a_statement_is_no_command(sentence: str, content: Path) -> None:
    """ASD-STE100 rule 5.3; the first three are its examples of what not to write."""
    assert rules_for(content, sentence) == {"not-imperative"}


@pytest.mark.parametrize(
    "sentence",
    [
        "Continue the test.",
        "Remove oil and grease with a degreasing agent.",
        "Before you remove the clamp, disconnect the hose.",
        "Increase the pressure to 60 kPa.",
        "Inflate the tires.",
        "Confirm that the plug can be turned.",
        "Do not touch the lamp.",
        "With both feet in the loops, reach for the lamp.",
    ],
)
def test_a_command_is_one(sentence: str, content: Path) -> None:
    """ASD-STE100 rule 5.3; the first five are its examples in STE."""
    assert rules_for(content, sentence) == set()


@pytest.mark.parametrize(
    ("last", "first"),
    [
        ("Set the switch to NORMAL when the light comes on.", "When the light comes on, set the switch to NORMAL."),
        ("Apply the primer when the surface is dry.", "When the surface is dry, apply the primer."),
        (
            "Disconnect the drive from the gearbox, if it does not operate correctly.",
            "If the drive does not operate correctly, disconnect it from the gearbox.",
        ),
    ],
)
def test_a_condition_stands_first(last: str, first: str, content: Path, tmp_path: Path) -> None:
    """ASD-STE100 rule 5.4 and its examples."""
    assert rules_for(content, last) == {"condition-last"}
    start_folder(tmp_path / "again")
    assert rules_for(tmp_path / "again" / "content", first) == set()


@pytest.mark.parametrize("sentence", ["Check if the light is on.", "Tell the ground when the hatch is open."])
def test_asking_whether_is_no_condition_of_the_step(sentence: str, content: Path) -> None:
    found = rules_for(content, sentence)
    assert ("condition-last" in found) == sentence.startswith("Tell")


@pytest.mark.parametrize(("words", "long"), [(20, False), (21, True)])
def test_an_instruction_has_at_most_20_words(words: int, long: bool, content: Path) -> None:
    """ASD-STE100 rule 5.1."""
    sentence = "Open " + " ".join(["wide"] * (words - 1)) + "."
    assert ("long-sentence" in rules_for(content, sentence)) is long


@pytest.mark.parametrize(("words", "long"), [(25, False), (26, True)])
def test_a_description_has_at_most_25_words(words: int, long: bool, content: Path) -> None:
    """ASD-STE100 rule 6.3; a note counts as a description (rule 5.1, note)."""
    note = "        note: " + " ".join(["wide"] * words) + ".\n"
    assert ("long-sentence" in rules_for(content, "Open the hatch.", note)) is long


@pytest.mark.parametrize(("many", "long"), [(6, False), (7, True)])
def test_a_paragraph_has_at_most_six_sentences(many: int, long: bool, content: Path) -> None:
    """ASD-STE100 rule 6.6."""
    note = "        note: " + " ".join(["It is so."] * many) + "\n"
    assert ("long-paragraph" in rules_for(content, "Open the hatch.", note)) is long


def test_a_contraction_and_a_semicolon_are_named(content: Path, tmp_path: Path) -> None:
    """ASD-STE100 rules 4.2 (with its example) and 8.1."""
    assert rules_for(content, "If your hands are wet, don't touch the adapter.") == {"contraction"}
    start_folder(tmp_path / "again")
    assert rules_for(tmp_path / "again" / "content", "Open the hatch; it swings.") == {"semicolon"}


def test_the_place_of_a_later_sentence_is_its_own(content: Path) -> None:
    path = content / "tasks.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(
        text.replace("do: Open the hatch.", "do: >\n          Open the hatch.\n          Take the bag.", 1), "utf-8"
    )
    (finding,) = examine(content).findings
    assert (finding.rule, str(finding.position)) == ("two-instructions", "tasks.yaml:14:11")


@pytest.mark.parametrize(
    ("sentence", "undefined"),
    [
        ("Look along the MLI for tears.", True),
        ("Look at both MLIs.", True),
        ("Set the switch to OFF.", False),  # the equipment has a state “off”, so it is a word
        ("Tell EV1 to wait.", False),
        ("Press the key “ABC”.", False),
        ("Wait for 2 MW of load.", False),
        ("Look at P14 and K3.", False),
        ("OPEN THE HATCH NOW.", False),
    ],
)
def test_abbreviations_are_explained(sentence: str, undefined: bool, content: Path) -> None:
    path = content / "tasks.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("do: Open the hatch.\n", f"do: {sentence}\n", 1), encoding="utf-8")
    found = [finding for finding in examine(content).findings if finding.rule == "undefined-term"]
    assert bool(found) is undefined
