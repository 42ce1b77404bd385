"""What the signs of a task's diagram stand for: only those that it shows."""

from __future__ import annotations

from briefgen.charts.chart import KeyLine
from briefgen.charts.drawing import svg
from briefgen.charts.kinds.steps.rows import Rows


def key(rows: Rows) -> tuple[KeyLine, ...]:
    """The key of one diagram."""
    nodes = rows.nodes
    signs = (
        (bool(rows.links), _arrow("c-link", "c-arrow"), "begins only after the other's step"),
        (any(node.foreign or node.hold for node in nodes), svg.rect(1, 2, 28, 12, "c-tab", rx=3), "waits: for what"),
        (any(len(node.columns) > 1 for node in nodes),
         svg.rect(1, 1, 28, 14, "c-box", rx=3) + svg.rect(1, 1, 14, 4, "c-rim c-lane-1")
         + svg.rect(15, 1, 14, 4, "c-rim c-lane-3"),
         "together"),
        (any(node.hazards for node in nodes),
         svg.path([(15, 2), (21, 13), (9, 13)], "c-hazard", closed=True), "hazard"),
        (any(node.verifies for node in nodes),
         svg.path([(15, 2), (21, 8), (15, 14), (9, 8)], "c-verifies", closed=True), "verifies by looking"),
        (any(node.critical for node in nodes),
         svg.path([(4, 8), (26, 8)], "c-chain") + svg.path([(4, 8), (26, 8)], "c-chain-core"), "critical"),
    )  # fmt: skip
    return tuple(KeyLine(_drawing(drawing), words) for shown, drawing, words in signs if shown)


def _drawing(inside: str) -> str:
    return svg.tag("svg", inside, viewBox="0 0 30 16", width=30, height=16, class_="bg-c c-lane-1", aria_hidden="true")


def _arrow(line: str, tip: str) -> str:
    return svg.path([(3, 3), (15, 3), (15, 9)], line) + svg.path([(15, 15), (11, 8), (19, 8)], tip, closed=True)
