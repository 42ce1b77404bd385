"""The format's reference as a Markdown page. Rules have pages in every site, which the site makes itself.

Pure: rows go in, a text comes out. `python -m briefgen.reference FOLDER` writes it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from briefgen.reference.rows import SHARED, RecordSection, Row, sections

_MADE = "<!-- Made by “python -m briefgen.reference”; changes belong into the model. -->\n"


def reference_pages() -> Mapping[str, str]:
    """Every page by its path."""
    return {"format.md": format_page(sections())}


def format_page(parts: Iterable[RecordSection]) -> str:
    """Every kind with its keys, then the parts that records are made of."""
    kinds = [section for section in parts if section.is_kind]
    others = [section for section in parts if not section.is_kind]
    head = [
        "# The format",
        "A content folder holds any number of YAML files in any folders. The top-level keys of a file are kinds; below "
        "a kind stand ids, and below an id its record. An id is lower-case words joined by hyphens. **Bold** keys must "
        f"be there. The keys under [every record](#{SHARED}) may stand in any record.",
        "Kinds: " + ", ".join(f"[{section.name}](#{section.name})" for section in kinds) + ".",
    ]
    return _MADE + "\n\n".join([*head, *map(_section, kinds), "## Parts of records", *map(_section, others)]) + "\n"


def _section(section: RecordSection) -> str:
    head = "| key | value | what it means | example |\n|---|---|---|---|"
    mark = "##" if section.is_kind else "###"
    return f"{mark} {section.title}\n\n{section.about}\n\n{head}\n" + "\n".join(map(_row, section.rows))


def _row(row: Row) -> str:
    key = f"**{row.key}**" if row.required else row.key
    parts = " and ".join(f"[{part}](#{part})" for part in row.parts)
    form = f"{row.form}, see {parts}" if parts else row.form
    return f"| {key} | {form} | {row.means} | `{row.example}` |"
