"""The played sortie as the HTML that stands in a page: EMBED.md says what it holds. One line, as for every chart."""

from __future__ import annotations

from math import ceil

from briefgen.charts.drawing.marks import pattern_word, token
from briefgen.charts.drawing.svg import escape, tag
from briefgen.charts.interactive.embed import bare_html, key_html, table_html
from briefgen.charts.interactive.figures import to_json
from briefgen.charts.kinds.player.played import Played
from briefgen.charts.kinds.player.strip import strip
from briefgen.charts.kinds.timeline.rows import Lane
from briefgen.units import show_elapsed

# Seconds of the sortie that pass in a second of watching.
SPEEDS = ((10, "10 s"), (30, "30 s"), (60, "1 min"), (120, "2 min"), (300, "5 min"), (600, "10 min"))
USUAL = 60
# Seconds between two stops of the slider; its last stop is at or after the finish, so that the finish is reached.
STRIDE = 10
KEYS = (
    "Keys: space plays and pauses; left and right arrow go 30 s back and on; page up and page down go to the moment "
    "before and after; home and end go to the start and the finish."
)


def player_html(played: Played, plotly: str) -> str:
    """The whole player. `plotly` is the address of Plotly's script, relative to the page."""
    if not played.play.steps:
        return tag("p", "This sortie has no steps to play.", class_="bg-player__none")
    return tag(
        "section",
        _screen(played, plotly),
        '<div class="bg-chart__voice" data-play="voice" role="status"></div>',
        '<section class="bg-player__script bg-script" aria-label="What the briefer says"></section>',
        f'<p class="bg-player__keys">{escape(KEYS)}</p>',
        tag("details", tag("summary", "What the signs stand for"), key_html(played.map), class_="bg-chart__table"),
        tag("script", to_json(played.data), type="application/json", class_="bg-player__data"),
        tag("details", tag("summary", "All moments as a table"), table_html(played.table, f"{played.id}-table"),
            class_="bg-chart__table bg-player__table", open=""),
        class_="bg-player", id=played.id, data_player="", aria_label=f"The sortie played: {played.play.rows.title}",
    )  # fmt: skip


def _screen(played: Played, plotly: str) -> str:
    """What fits on one screen: the controls, the map, beside it whoever is outside, and under it whoever is not."""
    sheets = played.data["sheets"]
    shapes = (wide / high for wide, high in (sheets["wide"]["size"], sheets["narrow"]["size"]))
    ratios = "--ratio:{:.3f};--ratio-narrow:{:.3f}".format(*shapes)
    lanes = played.play.rows.lanes
    return tag(
        "div",
        f'<div class="bg-player__live" hidden>{_controls(played)}</div>',
        tag("div", bare_html(played.map, plotly), class_="bg-player__map", style=ratios),
        tag("div", *(_panel(lane) for lane in lanes if lane.person.outside), class_="bg-player__now bg-now"),
        tag("div", *(_panel(lane) for lane in lanes if not lane.person.outside), class_="bg-player__within bg-now"),
        class_="bg-player__screen",
    )


def _controls(played: Played) -> str:
    finish = played.play.rows.finish
    options = "".join(
        f'<option value="{speed}"{" selected" if speed == USUAL else ""}>{words} a second</option>'
        for speed, words in SPEEDS
    )
    return (
        '<div class="bg-player__bar bg-toolbar" role="group" aria-label="Playing">'
        f"{_button('play', 'Play', main=True)}{_button('back', 'Moment before')}{_button('on', 'Moment after')}"
        '<span class="bg-player__when">'
        '<output class="bg-clock bg-player__clock" data-play="clock" aria-live="off">0:00:00</output>'
        '<span class="bg-badge bg-player__light" data-play="light"></span></span>'
        f'<select class="bg-select" data-play="speed" aria-label="Speed">{options}</select>'
        '<a class="bg-player__here" data-play="here" href="#t=0:00:00">Link to this moment</a></div>'
        f'<div class="bg-player__strip" data-play="strip">{strip(played.play.rows)}'
        '<span class="bg-player__cursor" data-play="cursor"></span>'
        '<input class="bg-player__time" data-play="time" type="range" min="0" '
        f'max="{STRIDE * ceil(finish / STRIDE)}" step="{STRIDE}" value="0" '
        f'aria-label="Elapsed time" aria-valuetext="0:00:00 of {show_elapsed(finish)}"></div>'
        '<p class="bg-player__calm" data-play="calm" hidden>'
        "Motion is reduced: the sortie is played moment by moment.</p>"
    )


def _button(name: str, words: str, main: bool = False) -> str:
    look = ' data-look="main"' if main else ""
    # A phone shows a sign in the place of these words; they stay for who listens.
    return f'<button type="button" class="bg-button"{look} data-play="{name}"><span>{words}</span></button>'


def _panel(lane: Lane) -> str:
    """A person's panel: who, and room for what they do, which the script fills in."""
    person = lane.person
    mark = tag(
        "svg", token(person, 22), viewBox="-13 -13 26 26", width=26, height=26, class_="bg-c", aria_hidden="true"
    )
    name = f"{escape(person.label_text)} <span>{escape(str(person.callsign or ''))}</span>"
    inside = f'<a href="{escape(lane.href)}">{name}</a>' if lane.href else name
    word = tag("span", escape(pattern_word(person)), class_="bg-now__mark")
    return (
        f'<section class="bg-now__person" data-lane="{lane.number}" aria-label="{escape(person.label_text)}">'
        f'<h2 class="bg-now__name">{mark}{inside} {word}</h2>'
        '<div class="bg-now__does" data-play="does"></div></section>'
    )
