"""Findings as text for people: where, what, the line itself with a mark under it, and what to write."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from briefgen.findings import Finding, Level, count, in_order
from briefgen.reporters.colour import BOLD, CYAN, DIM, GREEN, RED, YELLOW, Paint
from briefgen.reporters.excerpt import excerpt, printable
from briefgen.source import Position

_COLOURS = {Level.ERROR: RED, Level.WARNING: YELLOW, Level.ADVICE: CYAN}
_WORDS = {
    Level.ERROR: ("error", "errors"),
    Level.WARNING: ("warning", "warnings"),
    Level.ADVICE: ("piece of advice", "pieces of advice"),
}


def as_text(findings: Iterable[Finding], sources: Mapping[str, Sequence[str]], colour: bool = False) -> str:
    """Every finding as a paragraph, by place. `sources` holds each file's lines."""
    paint = Paint(colour)
    return "\n".join("".join(f"{line}\n" for line in _paragraph(one, sources, paint)) for one in in_order(findings))


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


def _paragraph(finding: Finding, sources: Mapping[str, Sequence[str]], paint: Paint) -> Iterator[str]:
    level = paint(finding.level, BOLD, _COLOURS[finding.level])
    yield f"{paint(printable(place_words(finding.position)), BOLD)}: {level} {finding.rule}"
    yield f"  {printable(finding.sentence)}"
    yield from _lines(finding.position, sources, paint, _COLOURS[finding.level])
    for related in finding.related:
        yield f"  {paint('see', DIM)} {printable(place_words(related.position))}: {printable(related.words)}"
    if finding.write:
        yield from _way_out(finding, paint)
    yield f"  {paint('why:', DIM)}   briefgen rule {finding.rule}"


def _lines(position: Position, sources: Mapping[str, Sequence[str]], paint: Paint, colour: str) -> Iterator[str]:
    shown = excerpt(sources, position)
    if shown is None:
        return
    number = f"{shown.number:>6}"
    bar = paint("|", DIM)
    yield f"{paint(number, DIM)} {bar} {shown.line}"
    yield f"{' ' * len(number)} {bar} {paint(shown.mark.rstrip(), BOLD, colour)}"


def _way_out(finding: Finding, paint: Paint) -> Iterator[str]:
    head = paint("write:", BOLD, GREEN)
    first, *rest = finding.write.splitlines()
    yield f"  {head} {printable(first)}"
    for line in rest:
        yield f"         {printable(line)}"
    if finding.write_at and finding.write_at != finding.position:
        yield f"  {paint('   at', DIM)} {printable(place_words(finding.write_at))}"
