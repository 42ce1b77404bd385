"""The reference as Markdown pages: one of the format, one of each family of rules, and the list of all rules.

Pure: rows go in, texts come out. `python -m briefgen.reference FOLDER` writes them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from briefgen.reference.rows import SHARED, Row, Section, sections
from briefgen.reference.rules import RulePage, rule_pages
from briefgen.rules.registry import all_rules

_MADE = "<!-- Made by “python -m briefgen.reference”; changes belong into the model and the rules. -->\n"


def reference_pages() -> Mapping[str, str]:
    """Every page by its path."""
    pages = rule_pages(all_rules().values())
    families = {family: list(group) for family, group in groupby(pages, key=lambda page: page.family)}
    rules = {f"rules/{_file(family)}": _family_page(family, group) for family, group in families.items()}
    return {"format.md": format_page(sections()), "rules/index.md": _index(families), **rules}


def format_page(parts: Iterable[Section]) -> str:
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


def _section(section: Section) -> str:
    head = "| key | value | what it means | example |\n|---|---|---|---|"
    mark = "##" if section.is_kind else "###"
    return f"{mark} {section.title}\n\n{section.about}\n\n{head}\n" + "\n".join(map(_row, section.rows))


def _row(row: Row) -> str:
    key = f"**{row.key}**" if row.required else row.key
    form = f"{row.form}, see [{row.part}](#{row.part})" if row.part else row.form
    return f"| {key} | {form} | {row.means} | `{row.example}` |"


def _file(family: str) -> str:
    return f"{family.replace(' ', '-')}.md"


def _index(families: Mapping[str, list[RulePage]]) -> str:
    lines = [
        "# Rules",
        "What must hold, by family. Errors could hurt or stop the crew, warnings are likely mistakes, advice is about "
        "words.",
        *(_listed(family, pages) for family, pages in families.items()),
    ]
    return _MADE + "\n\n".join(lines) + "\n"


def _listed(family: str, pages: list[RulePage]) -> str:
    rows = (f"| [{page.name}]({_file(family)}#{page.name}) | {page.level} | {page.says} |" for page in pages)
    return f"## {family.capitalize()}\n\n| rule | level | what must hold |\n|---|---|---|\n" + "\n".join(rows)


def _family_page(family: str, pages: list[RulePage]) -> str:
    return _MADE + "\n\n".join([f"# Rules about {family}", *("\n\n".join(_rule(page)) for page in pages)]) + "\n"


def _rule(page: RulePage) -> Iterator[str]:
    yield f"## {page.name}"
    yield f"*{page.level.capitalize()}.* {page.says}"
    yield from page.why
    if page.wrong.strip():
        yield f"Wrong; the finding points at line {page.line}, column {page.column}:"
        yield f"```yaml\n{page.wrong.rstrip()}\n```"
    yield "Right:"
    yield f"```yaml\n{page.right.rstrip()}\n```"
