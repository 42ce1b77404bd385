"""Lines to write: YAML that an author can paste as it stands, with what already stands there kept."""

from __future__ import annotations

from collections.abc import Iterable

from briefgen.language.written import word

__all__ = ["list_line", "map_line", "step_line", "word"]


def list_line(key: str, entries: Iterable[str], *more: str) -> str:
    """A key with a list: what is there, and what must be added.

    >>> list_line("after", ["work/take"], "work/look")
    'after: [work/take, work/look]'
    """
    return f"{key}: [{', '.join(word(entry) for entry in dict.fromkeys([*map(str, entries), *more]))}]"


def map_line(key: str, entries: Iterable[tuple[str, str]], name: str, value: str) -> str:
    """A key with a mapping: what is there, with one entry added or written otherwise.

    >>> map_line("requires", [("cover", "open")], "feed", "off")
    'requires: {cover: open, feed: off}'
    """
    merged = {**{str(old): str(one) for old, one in entries}, str(name): str(value)}
    return f"{key}: {{{', '.join(f'{old}: {word(one)}' for old, one in merged.items())}}}"


def step_line(who: Iterable[str], at: str | None, do: str, takes: str = "2 min", *more: str) -> str:
    """A whole step in one line; `more` are keys with their values.

    >>> step_line(["ev1"], "lock", "Go to the lock.")
    '- {who: ev1, at: lock, do: Go to the lock., takes: 2 min}'
    """
    people = list(who)
    keys = [f"who: {people[0] if len(people) == 1 else '[' + ', '.join(people) + ']'}"]
    keys += [f"at: {at}"] if at else []
    return f"- {{{', '.join([*keys, f'do: {word(do)}', f'takes: {takes}', *more])}}}"
