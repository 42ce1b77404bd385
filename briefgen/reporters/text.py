"""Findings as text for people: where, what, the line itself with a mark under it, and what to write."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap

from briefgen.findings import Finding, Level, count, in_order
from briefgen.language.printable import in_one_line
from briefgen.reporters.colour import BOLD, CYAN, DIM, GREEN, RED, YELLOW, Paint
from briefgen.reporters.excerpt import WIDEST, excerpt
from briefgen.source import Position

_COLOURS = {Level.ERROR: RED, Level.WARNING: YELLOW, Level.ADVICE: CYAN}
_MARGIN = 12  # what stands before a shown line, and the signs that say it was cut
_WORDS = {
    Level.ERROR: ("error", "errors"),
    Level.WARNING: ("warning", "warnings"),
    Level.ADVICE: ("piece of advice", "pieces of advice"),
}


def as_text(
    findings: Iterable[Finding], sources: Mapping[str, Sequence[str]], colour: bool = False, width: int | None = None
) -> str:
    """Every finding as a paragraph, by place. `sources` holds each file's lines, `width` is that of a terminal in
    columns; without it no line is broken, which is what programs want.
    """
    sheet = _Sheet(sources, Paint(colour), width)
    return "\n".join("".join(f"{line}\n" for line in sheet.paragraph(one)) for one in in_order(findings))


def summary(findings: Iterable[Finding]) -> str:
    """How many of each level, in one line.

    >>> summary([])
    'No findings.'
    """
    tally = count(findings)
    parts = [f"{many} {_WORDS[level][many != 1]}" for level, many in tally.items() if many]
    return f"{', '.join(parts)}." if parts else "No findings."


def place_words(position: Position) -> str:
    """`file:line:column`, or less where less is known."""
    if not position.file:
        return "the content folder"
    return str(position) if position.line else position.file


@dataclass(frozen=True)
class _Sheet:
    """What findings are written on."""

    sources: Mapping[str, Sequence[str]]
    paint: Paint
    width: int | None

    def paragraph(self, finding: Finding) -> Iterator[str]:
        paint = self.paint
        level = paint(finding.level, BOLD, _COLOURS[finding.level])
        yield f"{paint(in_one_line(place_words(finding.position)), BOLD)}: {level} {finding.rule}"
        yield from self._wrapped(f"  {in_one_line(finding.sentence)}", "  ")
        yield from self._lines(finding.position, _COLOURS[finding.level])
        for related in finding.related:
            words = f"{in_one_line(place_words(related.position))}: {in_one_line(related.words)}"
            first, *rest = self._wrapped(f"  see {words}", "      ")
            yield f"  {paint('see', DIM)}{first[5:]}"
            yield from rest
        if finding.write:
            yield from self._way_out(finding)
        yield f"  {paint('why:', DIM)}   briefgen rule {finding.rule}"

    def _wrapped(self, line: str, indent: str) -> list[str]:
        """A line of words, broken between them where it is wider than the terminal."""
        if self.width is None:
            return [line]
        return wrap(line, max(self.width, 30), subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)

    def _lines(self, position: Position, colour: str) -> Iterator[str]:
        shown = excerpt(self.sources, position, WIDEST if self.width is None else max(20, self.width - _MARGIN))
        if shown is None:
            return
        number = f"{shown.number:>6}"
        bar = self.paint("|", DIM)
        yield f"{self.paint(number, DIM)} {bar} {shown.line}"
        yield f"{' ' * len(number)} {bar} {self.paint(shown.mark.rstrip(), BOLD, colour)}"

    def _way_out(self, finding: Finding) -> Iterator[str]:
        """The line to write, never broken: it is there to be copied."""
        head = self.paint("write:", BOLD, GREEN)
        first, *rest = finding.write.splitlines()
        yield f"  {head} {in_one_line(first)}"
        for line in rest:
            yield f"         {in_one_line(line)}"
        if finding.write_at and finding.write_at != finding.position:
            yield f"  {self.paint('   at', DIM)} {in_one_line(place_words(finding.write_at))}"
