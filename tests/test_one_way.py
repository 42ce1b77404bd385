"""A check and a build say the same, whatever lies beside the content: pages, levels, an earlier revision."""

from __future__ import annotations

from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort, ConfigurationError

from briefgen.cli import main
from briefgen.start.folder import start_folder


@pytest.fixture
def briefing(tmp_path: Path) -> Path:
    start_folder(tmp_path / "briefing")
    return tmp_path / "briefing"


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def builds(briefing: Path) -> bool:
    """Whether a strict build ends well."""
    try:
        build(load_config(str(briefing / "mkdocs.yml"), site_dir=str(briefing / "site"), strict=True))
    except (Abort, ConfigurationError):
        return False
    return True


def page(briefing: Path) -> Path:
    return sorted((briefing / "pages").rglob("*.md"))[0]


def since(briefing: Path) -> None:
    """The sortie is recorded with its letter; the project names the record."""
    assert main(["record", str(briefing / "content"), "--to", str(briefing / "a.json")]) == 0
    change(briefing / "mkdocs.yml", "{content: content}", "{content: content, since: a.json}")


def dead_link(briefing: Path) -> None:
    with page(briefing).open("a", encoding="utf-8") as file:
        file.write("\nThe [grip](tool:lamp-grib).\n")


def dead_link_silenced(briefing: Path) -> None:
    dead_link(briefing)
    change(briefing / "mkdocs.yml", "{content: content}", "{content: content, levels: {broken-link: off}}")


def control_character(briefing: Path) -> None:
    with page(briefing).open("a", encoding="utf-8") as file:
        file.write("\nRed \x1b[31m words.\n")


def not_text(briefing: Path) -> None:
    page(briefing).write_bytes(b"\xff\xfe")


def same_letter(briefing: Path) -> None:
    since(briefing)
    change(briefing / "content" / "tasks.yaml", "takes: 3/4/7 min", "takes: 3/5/7 min")


def same_letter_accepted(briefing: Path) -> None:
    since(briefing)
    change(briefing / "content" / "programme.yaml", "    revision: A\n",
           "    revision: A\n    accepts: [{finding: revision-unchanged, because: Only a draft.}]\n")  # fmt: skip
    change(briefing / "content" / "tasks.yaml", "takes: 3/4/7 min", "takes: 3/5/7 min")


def no_record(briefing: Path) -> None:
    change(briefing / "mkdocs.yml", "{content: content}", "{content: content, since: a.json}")


def inherited(briefing: Path, own: str = "") -> None:
    """The project's file says only whom it inherits from, and `own`."""
    dead_link(briefing)
    (briefing / "mkdocs.yml").rename(briefing / "house.yml")
    (briefing / "mkdocs.yml").write_text(f"INHERIT: house.yml\n{own}", encoding="utf-8")


def inherited_level(briefing: Path) -> None:
    change(briefing / "mkdocs.yml", "{content: content}", "{content: content, levels: {broken-link: off}}")
    inherited(briefing)


def inherited_and_replaced(briefing: Path) -> None:
    """A list takes the place of the parent's list: the level is gone with it."""
    change(briefing / "mkdocs.yml", "{content: content}", "{content: content, levels: {broken-link: off}}")
    inherited(briefing, "plugins: [briefgen: {content: content}]\n")


def inherited_from_nobody(briefing: Path) -> None:
    (briefing / "mkdocs.yml").write_text("INHERIT: nobody.yml\n", encoding="utf-8")


CASES = {
    "nothing": (lambda briefing: None, 0, ""),
    "recorded": (since, 0, ""),
    "dead link": (dead_link, 1, "broken-link"),
    "control character": (control_character, 1, "control-character"),
    "no text": (not_text, 1, "not-utf-8"),
    "same letter": (same_letter, 1, "revision-unchanged"),
    "same letter, accepted": (same_letter_accepted, 0, "Accepted by the author"),
    "no record": (no_record, 2, "a.json"),
    "inherited": (inherited, 1, "broken-link"),
    "inherited level": (inherited_level, 0, ""),
    "inherited and replaced": (inherited_and_replaced, 1, "broken-link"),
    "inherited from nobody": (inherited_from_nobody, 2, "nobody.yml"),
}


@pytest.mark.parametrize("name", CASES)
def test_a_check_ends_as_a_build_does(name: str, briefing: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil, code, said = CASES[name]
    spoil(briefing)
    capsys.readouterr()
    assert main(["check", "--strict", str(briefing / "content")]) == code
    printed = capsys.readouterr()
    assert said in printed.out + printed.err
    assert builds(briefing) == (code == 0)


def test_a_level_of_the_project_counts_in_a_check(briefing: Path, capsys: pytest.CaptureFixture[str]) -> None:
    dead_link_silenced(briefing)
    assert main(["check", "--strict", str(briefing / "content")]) == 0
    assert main(["check", "--strict", "--level", "broken-link=warning", str(briefing / "content")]) == 1
    assert "broken-link" in capsys.readouterr().out


def test_alone_a_check_sees_the_folder_only(briefing: Path) -> None:
    dead_link(briefing)
    assert main(["check", "--strict", "--alone", str(briefing / "content")]) == 0


def test_a_project_that_is_no_yaml_is_said_and_not_guessed_at(
    briefing: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (briefing / "mkdocs.yml").write_text("plugins: [\n- briefgen: {", encoding="utf-8")
    assert main(["check", str(briefing / "content")]) == 2
    assert "is no YAML, line 2. With --alone" in capsys.readouterr().err


def test_tags_of_the_builder_in_the_project_are_passed_over(briefing: Path) -> None:
    with (briefing / "mkdocs.yml").open("a", encoding="utf-8") as file:
        file.write("edit_uri: !ENV [NOWHERE, x]\n")
    dead_link(briefing)
    assert main(["check", "--strict", str(briefing / "content")]) == 1


def test_a_project_that_inherits_from_itself_ends_with_a_sentence(
    briefing: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (briefing / "mkdocs.yml").write_text("INHERIT: mkdocs.yml\n", encoding="utf-8")
    assert main(["check", str(briefing / "content")]) == 2
    assert "or from itself" in capsys.readouterr().err
