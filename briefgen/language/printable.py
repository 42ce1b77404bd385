"""What may stand in a text, and the one filter through which all goes that is shown in a terminal or a CI log.

Characters are told by the code point types of Unicode 16.0, sections 2.4 and 23.
"""

from __future__ import annotations

import re

# C0 but tab and line feed, DEL, C1; line and paragraph separator; embeddings, overrides and isolates of direction;
# surrogates, private use, and code points that are no characters.
_BEYOND = "".join(f"{chr(plane * 0x10000 + 0xFFFE)}{chr(plane * 0x10000 + 0xFFFF)}" for plane in range(1, 17))
_NO_TEXT = (
    r"\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ue000-\uf8ff\ufdd0-\ufdef\ufffe\uffff"
    rf"{_BEYOND}\U000f0000-\U000ffffd\U00100000-\U0010fffd"
)
_CONTROL = re.compile(f"[{_NO_TEXT}]")
_UNSHOWN = re.compile(rf"\r(?!\n)|(?!\r)[{_NO_TEXT}]")
_COLOUR = re.compile("(\x1b\\[[0-9;]{1,8}m)")
# How lines begin that CI services take for commands.
_COMMAND = re.compile(r"^([ \t]*):(?=:)|##(?=\w*\[)", re.MULTILINE)


def control_in(text: str) -> str:
    """The first character that nobody should write in a text, as a code; nothing where there is none.

    >>> control_in("9 N·m\\tand more"), control_in("a\\x1b[31m"), control_in("\\u202e")
    ('', 'U+001B', 'U+202E')
    """
    found = _CONTROL.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def printable(text: str, *, coloured: bool = False, commands: bool = False) -> str:
    """The text without anything that moves a cursor, hides words or gives a CI service an order.

    Such a character is shown as a code, in the form that JSON (RFC 8259, section 7) has for the same character, so that
    JSON stays what it was. `coloured`: colours that we have set ourselves stay. `commands`: so do lines for a service.

    >>> printable("a\\x1b[2J\\r\\nb\\rc"), printable("::error::x"), printable("\\x1b[31mred", coloured=True)
    ('a\\\\u001b[2J\\r\\nb\\\\u000dc', ': :error::x', '\\x1b[31mred')
    """
    pieces = _COLOUR.split(text) if coloured else [text]
    pieces[::2] = [_UNSHOWN.sub(_code, piece) for piece in pieces[::2]]
    shown = "".join(pieces)
    return shown if commands else _COMMAND.sub(lambda found: f"{found[0]} ", shown)


def in_one_line(text: str) -> str:
    """The same for one line: tabs are blanks, and line ends are shown as a backslash and an n."""
    return printable(text).replace("\t", "    ").replace("\r", "").replace("\n", "\\n")


def _code(found: re.Match[str]) -> str:
    units = found[0].encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at]:02x}{units[at + 1]:02x}" for at in range(0, len(units), 2))
