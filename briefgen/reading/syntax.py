"""What a YAML parser objects to, in an author's words: where the mistake was made, and what to write.

Pure: the parser's words and places and the author's lines go in. A parser stops where it can go no further; the mistake
is often a line above, at what it was reading (its context). Lines and columns count from one.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

Spot = tuple[int, int]


@dataclass(frozen=True)
class Objection:
    """The parser's problem and its place, and what it was reading when it met it."""

    problem: str
    at: Spot
    context: str
    since: Spot
    lines: Sequence[str]

    def line(self, number: int) -> str:
        """A line of the file, counted from 1; empty beyond its ends."""
        return self.lines[number - 1] if 1 <= number <= len(self.lines) else ""


@dataclass(frozen=True)
class Explained:
    """Where to look, what is wrong, and the line to write."""

    at: Spot
    sentence: str
    write: str = ""


_KEY = re.compile(r"^(\s*(?:- +)*)([A-Za-z][\w-]*):(\s+)(.+)$")
_NO_BLANK = re.compile(r"^\s*(?:- +)*([A-Za-z][\w-]*):(\S.*)$")
_NO_COLON = re.compile(r"^\s*(?:- +)*([A-Za-z][\w-]*) +(\S.*)$")
_NO_BLANK_BEHIND_DASH = re.compile(r"^(\s*)-([A-Za-z]\S*:.*)$")


def explain(objection: Objection) -> Explained:
    """The likeliest mistake behind an objection."""
    for sign, explanation in _EXPLANATIONS:
        if sign in f"{objection.context}, {objection.problem}":
            found = explanation(objection)
            if found:
                return found
    words = ", ".join(filter(None, [objection.context, objection.problem]))
    return Explained(
        objection.at,
        f"This is not YAML: {words}. Look at the indentation, colons, quotes and brackets here and just before.",
    )


def _tab(what: Objection) -> Explained:
    return Explained(what.at, "A tab stands here. YAML is indented with blanks only: replace the tab by blanks.")


def _cannot_begin(what: Objection) -> Explained | None:
    found = re.search(r"found character '(.)'", what.problem)
    if not found:
        return None
    rest = what.line(what.at[0])[what.at[1] - 1 :].rstrip()
    return Explained(what.at, f"A value can't begin with “{found[1]}”: put it in quotes.", f"'{rest}'")


def _two_colons(what: Objection) -> Explained | None:
    """`title: Sortie 1: the lamp`, or a line below one that went wrong unnoticed."""
    line, before = what.line(what.at[0]), what.line(what.at[0] - 1)
    dash = _NO_BLANK_BEHIND_DASH.match(before)
    if dash:
        return Explained((what.at[0] - 1, len(dash[1]) + 1), "A blank is missing behind the dash.", f"- {dash[2]}")
    key = _KEY.match(line)
    if key and what.at[1] > len(key[1]) + len(key[2]) + 1:
        return Explained(
            what.at,
            f"The words behind “{key[2]}:” have a colon of their own: put them in quotes.",
            f'{key[2]}: "{key[4].rstrip()}"',
        )
    if _indent(before) == _indent(line):
        return _no_colon_in(what, what.at[0] - 1)
    sentence = "This line is indented deeper than the one before, which already has its value: set both flush."
    return Explained(what.at, sentence)


def _no_colon(what: Objection) -> Explained:
    return _no_colon_in(what, what.since[0])


def _no_colon_in(what: Objection, number: int) -> Explained:
    line = what.line(number)
    tight, loose = _NO_BLANK.match(line), _NO_COLON.match(line)
    if tight:
        sentence = f"A blank is missing behind the colon of “{tight[1]}”."
        return Explained((number, line.index(":") + 1), sentence, f"{tight[1]}: {tight[2].rstrip()}")
    start = (number, _indent(line) + 1)
    if loose:
        return Explained(start, f"A colon is missing behind “{loose[1]}”.", f"{loose[1]}: {loose[2].rstrip()}")
    return Explained(start, "These words stand alone: write a key and a colon ahead of them.")


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _open_quote(what: Objection) -> Explained:
    return Explained(
        what.since, "The quotation mark that opens here is never closed: close it at the end of the words."
    )


def _open_bracket(what: Objection) -> Explained:
    line = what.line(what.since[0])
    sign = line[what.since[1] - 1 : what.since[1]]
    closing = {"{": "}", "[": "]"}.get(sign, "its end")
    return Explained(
        what.since,
        f"The “{sign}” that opens here is not closed, or a comma is missing: the reader got as far as line "
        f"{what.at[0]}. Write “{closing}” behind the last value.",
    )


def _not_flush(what: Objection) -> Explained:
    line, column = what.since
    if "found '-'" in what.problem:
        return Explained(
            what.at,
            f"A “-” begins an entry of a list here, but at line {line} the entries began without one: give every entry "
            "its dash, or none.",
        )
    if what.at[1] == column:
        sentence = f"The list that begins at line {line} goes on here without a “-”: write it, or indent."
        return Explained(what.at, sentence)
    before = next((text for number in range(what.at[0] - 1, 0, -1) if (text := what.line(number)).strip()), "")
    flush = len(before) - len(before.lstrip(" -"))
    sentence = f"This line is not flush with the one above it: indent it by {flush} blanks, like that one, or deeper."
    return Explained(what.at, sentence)


def _backslash(what: Objection) -> Explained:
    return Explained(what.at, "Between double quotes a “\\” begins a code: use single quotes, or write it twice.")


_EXPLANATIONS: tuple[tuple[str, Callable[[Objection], Explained | None]], ...] = (
    ("found character '\\t'", _tab),
    ("cannot start any token", _cannot_begin),
    ("mapping values are not allowed", _two_colons),
    ("could not find expected ':'", _no_colon),
    ("while scanning a quoted scalar", _open_quote),
    ("while parsing a flow", _open_bracket),
    ("unknown escape character", _backslash),
    ("while parsing a block", _not_flush),
)
