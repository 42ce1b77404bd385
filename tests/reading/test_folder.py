"""A folder of files as a library: one mistake one finding, and the rest is read all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.findings import Finding
from briefgen.proof.evidence import Evidence
from briefgen.reading.folder import NoContent, Reading, read_folder
from briefgen.source import Position

TOOL = "tools: {hook: {stowed: k1}}\n"


def read(folder: Path, **files: str) -> Reading:
    for name, text in files.items():
        (folder / f"{name}.yaml").write_text(text, "utf-8")
    return read_folder(folder)


def one(reading: Reading) -> tuple[str, Position]:
    (finding,) = reading.findings
    return finding.rule, finding.position


def test_records_of_all_files_make_one_library_in_the_order_of_the_names(tmp_path: Path) -> None:
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "c.yml").write_text("tools: {saw: {stowed: k1}}", "utf-8")
    reading = read(tmp_path, b="tools: {net: {stowed: k1}}", a=TOOL)
    assert list(reading.library.tools) == ["hook", "net", "saw"]
    assert reading.library.tools["saw"].id.position == Position("sub/c.yml", 1, 9)
    assert reading.findings == ()


def test_hidden_files_and_folders_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "x.yaml").write_text("nonsense: {", "utf-8")
    assert read(tmp_path, a=TOOL).files == ("a.yaml",)


def test_a_missing_folder_and_one_without_yaml_say_so(tmp_path: Path) -> None:
    with pytest.raises(NoContent, match="no content folder"):
        read_folder(tmp_path / "nowhere")
    with pytest.raises(NoContent, match=r"no \.yaml"):
        read_folder(tmp_path)


@pytest.mark.parametrize(
    ("text", "rule", "line", "column", "words"),
    [
        ("", "empty-file", 1, 1, "says nothing"),
        ("- a\n", "wrong-value", 1, 1, "mapping of kinds"),
        ("tool: {}\n", "unknown-kind", 1, 1, "“tools”"),
        ("tools: [hook]\n", "wrong-value", 1, 8, "ids"),
        ("tools: {Hook: {stowed: k1}}\n", "bad-id", 1, 9, "lower-case"),
        ("tools: {hook: {}}\n", "missing-key", 1, 9, "“stowed”"),
        ("tools: {hook: here}\n", "wrong-value", 1, 9, "mapping"),
        ("tools: {hook: {stowd: k1, stowed: k1}}\n", "unknown-key", 1, 16, "“stowed”"),
        ("tools: {hook: {stowed: k1, mass: 3}}\n", "wrong-value", 1, 34, "3.2 kg"),
        ("tools: {hook: {stowed: }}\n", "wrong-value", 1, 24, "nothing stands here"),
        ("tools: {hook: {stowed: k1, count: yes}}\n", "wrong-value", 1, 35, "whole number"),
        ("places: {k1: {home: yes}}\n", "wrong-value", 1, 21, "true"),
        ("places: {k1: {map: [1]}}\n", "wrong-value", 1, 20, "at least 2"),
        ("routes: {r: {between: [a, a], length: 3 m}}\n", "wrong-value", 1, 10, "itself"),
        ("hazards: {h: {signal: dangr, hazard: A., consequence: B., avoid: C.}}\n", "wrong-value", 1, 23, "“danger”"),
    ],
)
def test_a_mistake_is_one_finding_at_its_place_with_the_way_out(
    tmp_path: Path, text: str, rule: str, line: int, column: int, words: str
) -> None:
    reading = read(tmp_path, a=text)
    assert one(reading) == (rule, Position("a.yaml", line, column))
    assert words in reading.findings[0].sentence


STEP = "tasks: {{t: {{title: T, purpose: P, place: k1, steps: [{{who: ev1, do: Do it., {}}}]}}}}\n"


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ("takes: ▸1:30", "1 h 30 min"),
        ("takes: 2 min, requires: {feed: ▸}", "nothing stands here"),
        ("takes: 2 min, sight: ▸by touch", "by feel"),
        ("takes: 2 min, after: [▸Close]", "task/step"),
        ("takes: 2 min, each: ▸[a]", "mapping"),
        ("takes: 2 min, spends: {clips: ▸one}", "whole number"),
        ("takes: 2 min, calls: [▸{to: ground}]", "“say”"),
        ("takes: 2 min, with: [a, {▸b c: loosen}]", "no id"),
        ("takes: 2 min, ▸wth: [a]", "“with”"),
    ],
)
def test_a_mistake_deep_in_a_step_points_at_its_word(tmp_path: Path, keys: str, words: str) -> None:
    text = STEP.format(keys)
    (finding,) = read(tmp_path, a=text.replace("▸", "")).findings
    assert finding.position == Position("a.yaml", 1, text.index("▸") + 1)
    assert words in finding.sentence
    assert "task “t”" in finding.sentence


def test_all_mistakes_of_all_files_come_in_one_run(tmp_path: Path) -> None:
    reading = read(tmp_path, a="tools: {hook: {}, net: {stowed: k1, mass: 3}}\n", b="tool: {}\n", c="a: [\n")
    assert sorted(finding.rule for finding in reading.findings) == [
        "missing-key", "unknown-kind", "wrong-value", "yaml-syntax",
    ]  # fmt: skip


def test_a_record_that_could_not_be_understood_is_still_known_by_name(tmp_path: Path) -> None:
    reading = read(tmp_path, a="tools: {hook: {}}\n")
    assert Evidence(reading.library, reading.broken, reading.sources).knows("tools", "hook")
    assert "hook" not in reading.library.tools


def test_an_id_stands_once_in_all_files(tmp_path: Path) -> None:
    assert one(read(tmp_path, a=TOOL, b=TOOL)) == ("duplicate-id", Position("b.yaml", 1, 9))


def test_a_file_that_is_not_utf_8_says_where(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_bytes("tools:\n  hook: {name: Größe}\n".encode("latin-1"))
    assert one(read_folder(tmp_path)) == ("not-utf-8", Position("a.yaml", 2, 18))


def test_a_byte_order_mark_is_no_part_of_the_text(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_bytes(b"\xef\xbb\xbf" + TOOL.encode())
    assert read_folder(tmp_path).findings == ()


def test_a_link_that_leaves_the_folder_is_refused(tmp_path: Path) -> None:
    outside = tmp_path / "outside.yaml"
    outside.write_text(TOOL, "utf-8")
    content = tmp_path / "content"
    content.mkdir()
    (content / "a.yaml").symlink_to(outside)
    assert one(read_folder(content)) == ("unreadable-file", Position("a.yaml"))


def test_a_folder_that_is_called_like_a_file_is_a_finding(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").mkdir()
    finding: Finding
    (finding,) = read_folder(tmp_path).findings
    assert finding.rule == "unreadable-file"
