"""The sortie played: a map with everybody moving along the computed timeline, and what they do beside it."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.charts.kind import ChartSubject
from briefgen.charts.kinds import site_map
from briefgen.charts.kinds.player.page import player_html
from briefgen.charts.kinds.player.played import Played, play_sortie
from briefgen.charts.kinds.player.rows import Play, Span, play_rows

__all__ = ["CHART", "Play", "Played", "Rows", "Span", "play_rows"]


@dataclass(frozen=True)
class Rows:
    """What is played, and the places that it is played over."""

    play: Play
    places: site_map.Rows


class _Player:
    """Not a chart with a still, but it is found, kept and put into pages like one."""

    name = "player"

    def drawn_from(self, subject: ChartSubject) -> Rows:
        """The rows. Raises CircleFound when the sortie's order runs in a circle."""
        places = site_map.CHART.drawn_from(subject)
        return Rows(play_rows(subject.sortie, subject.href, subject.picture), places)

    def played(self, rows: Rows) -> Played:
        """The sortie, ready to be played."""
        return play_sortie(rows.play, rows.places)

    def html(self, rows: Rows, plotly: str) -> str:
        """The whole player, its table included."""
        return player_html(self.played(rows), plotly)


CHART = _Player()
