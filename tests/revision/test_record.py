"""A record: read again it is the content it was made of, and whatever can't be read is refused with the way out."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

import pytest
import yaml
from ruamel.yaml import YAML

from briefgen.proof.evidence import Evidence
from briefgen.reading.record import FORMAT, BadRecord, digests, read_record, record_text
from briefgen.reading.tree import read_tree
from briefgen.recorded import NoVersion, recorded
from briefgen.revision.comparison import Comparison
from briefgen.revision.pairing.normal import as_written
from briefgen.revision.pairing.version import Version
from briefgen.versions import version_of
from tests.demo import CONTENT, demo
from tests.revision.worlds import BASE, version


@pytest.fixture(scope="module")
def text() -> str:
    return record_text(CONTENT, demo().library)


def test_read_again_every_record_is_what_it_was(text: str) -> None:
    library, figures = read_record(text, "demo.json")
    for kind, record in demo().evidence.written.every():
        assert as_written(library.find(kind, str(record.id)), record), (kind, record.id)
    assert sum(1 for _ in library.every()) == sum(1 for _ in demo().library.every())
    assert figures == digests(CONTENT, demo().library)


def test_of_the_demo_and_its_record_nothing_differs(text: str) -> None:
    library, figures = read_record(text, "demo.json")
    assert Comparison(Version(Evidence(library), figures), version_of(demo())).changes == ()


def test_other_readers_of_json_and_yaml_read_the_same(text: str) -> None:
    """RFC 8259 by Python's own reader; YAML 1.2 by ruamel.yaml; and this program's reader of content files."""
    data = json.loads(text)
    assert YAML(typ="safe", pure=False).load(text) == data
    tree, findings = read_tree(text, "demo.json")
    assert findings == ()
    assert tree["content"] == data["content"]


def test_the_digest_is_sha_256(tmp_path: Path) -> None:
    """FIPS 180-4: the digest of “abc”, as NIST's example for SHA-256 gives it."""
    said = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert version(BASE, picture="abc").digests == {"front.svg": said}


def test_the_same_content_gives_the_same_bytes_however_its_files_are_cut(tmp_path: Path) -> None:
    world = yaml.load(BASE, Loader=yaml.BaseLoader)
    texts = []
    for cut in ("one", "many"):
        folder = tmp_path / cut
        folder.mkdir()
        parts = [{kind: {name: record}} for kind in world for name, record in world[kind].items()]
        for number, part in enumerate([world] if cut == "one" else reversed(parts)):
            file = folder / f"{number:02d}.yaml"
            file.write_text(yaml.safe_dump(part, sort_keys=False, allow_unicode=True), encoding="utf-8")
        (folder / "front.svg").write_text("<svg/>", encoding="utf-8")
        texts.append(record_text(folder, version(BASE).library))
    assert texts[0] == texts[1]


def test_a_record_that_version_control_gave_other_line_ends_is_read_all_the_same(text: str) -> None:
    assert read_record(text.replace("\n", "\r\n"), "demo.json")[1] == read_record(text, "demo.json")[1]


def test_a_step_stands_on_a_line_of_its_own(text: str) -> None:
    for task in demo().evidence.written.tasks.values():
        for step in task.steps or ():
            if step.id:
                assert sum(line.lstrip().startswith(f'{{"id": "{step.id}", ') for line in text.splitlines()) >= 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("tools:\n  hook: {stowed: k2}\n", "it is not JSON"),
        ("[]", "is no record of a revision"),
        ('{"tools": {}}', "is no record of a revision"),
        ('{"briefgen-record": 99, "sha256": ""}', f"reads format {FORMAT}"),
        ('{"briefgen-record": 1, "sha256": "0",\n"content": 4}', "is not as “briefgen record” wrote it"),
        ("[" * 200_000, "it is not JSON"),
    ],
)  # fmt: skip
def test_what_is_no_record_is_refused_with_a_sentence(words: str, said: str, tmp_path: Path) -> None:
    file = tmp_path / "b.json"
    file.write_text(words, encoding="utf-8")
    with pytest.raises(NoVersion, match=said):
        recorded(file)


def test_a_record_that_somebody_edited_is_refused(text: str) -> None:
    assert "3/4/7 min" in text
    with pytest.raises(BadRecord, match="take it from version control again"):
        read_record(text.replace("3/4/7 min", "3/4/8 min", 1), "demo.json")


def test_a_record_of_a_format_that_has_moved_on_names_what_it_does_not_know() -> None:
    body = '"figures": {},\n"content": {"tools": {"hook": {"stowd": "k2"}}}}\n'
    head = f'{{"briefgen-record": {FORMAT}, "sha256": "{sha256(body.encode()).hexdigest()}",\n'
    with pytest.raises(BadRecord, match="“stowd” is no key of tool “hook”"):
        read_record(head + body, "old.json")


def test_a_file_that_is_not_there_or_no_text_is_refused(tmp_path: Path) -> None:
    with pytest.raises(NoVersion, match="no such file"):
        recorded(tmp_path / "none.json")
    (tmp_path / "b.json").write_bytes(b"\xff\xfe")
    with pytest.raises(NoVersion, match="not UTF-8"):
        recorded(tmp_path / "b.json")
