"""A chart as the HTML that stands in a page (see EMBED.md): one line, so that Markdown leaves it alone."""

from __future__ import annotations

from briefgen.charts.chart import Chart
from briefgen.charts.drawing.svg import escape, tag
from briefgen.charts.interactive.figures import chart_json
from briefgen.tables.table import Cell, Column, Table


def chart_html(chart: Chart, plotly: str) -> str:
    """The figure of a chart. `plotly` is the address of Plotly's script, relative to the page."""
    caption = tag("figcaption", escape(chart.title), class_="bg-chart__title")
    if not chart.still:
        return tag("figure", caption, _lead(chart), id=chart.id, class_="bg-chart", data_chart=chart.kind)
    drawings = (_tools(chart), _stage(chart), key_html(chart), _data(chart), _table(chart))
    return tag("figure", caption, _lead(chart), *drawings, **_marks(chart, plotly))


def bare_html(chart: Chart, plotly: str) -> str:
    """The same with nothing around the drawing, for a page that puts key and table elsewhere."""
    drawings = (_tools(chart), _stage(chart), _data(chart))
    return tag("figure", *drawings, aria_label=chart.title, **_marks(chart, plotly))


def _marks(chart: Chart, plotly: str) -> dict[str, str]:
    """What `charts.js` and the style sheet know a chart by; only one with a figure becomes live."""
    marks = {"class_": "bg-chart", "id": chart.id, "data_chart": chart.kind}
    return marks | {"data_state": "still", "data_plotly": plotly} if chart.figure else marks


def table_html(table: Table, name: str) -> str:
    """A table that can be scrolled sideways by keyboard; `name` is an id that its caption gets."""
    columns = table.columns
    head = tag("tr", *(tag("th", escape(one.head), scope="col", class_=_number(one)) for one in columns))
    body = (
        tag("tr", *(_cell(cell, column, not k) for k, (cell, column) in enumerate(zip(row, columns, strict=True))))
        for row in table.rows
    )
    return tag(
        "div",
        tag("table", tag("caption", escape(table.title), id=name), tag("thead", head), tag("tbody", *body)),
        class_="bg-table", role="region", aria_labelledby=name, tabindex=0,
    )  # fmt: skip


def _lead(chart: Chart) -> str:
    return tag("p", escape(chart.summary), class_="bg-chart__lead", id=f"{chart.id}-lead")


def _tools(chart: Chart) -> str:
    if not chart.figure:
        return ""
    words = f"Tools: {chart.title}"
    return f'<div class="bg-chart__tools bg-toolbar" role="group" aria-label="{escape(words)}" hidden></div>'


def _stage(chart: Chart) -> str:
    stills = tag("div", chart.still, class_="bg-chart__still", data_wide="")
    if chart.narrow:
        stills += tag("div", chart.narrow, class_="bg-chart__still", data_narrow="")
    live = '<div class="bg-chart__live" hidden></div>' if chart.figure else ""
    return tag("div", stills, live, class_="bg-chart__stage")


def key_html(chart: Chart) -> str:
    """What the signs stand for."""
    signs = (
        tag("li", sign.drawing, tag("span", escape(sign.words)), data_narrow="" if sign.narrow else None)
        for sign in chart.key
    )
    return tag("ul", *signs, class_="bg-chart__key", aria_label="Key") if chart.key else ""


def _data(chart: Chart) -> str:
    return tag("script", chart_json(chart), type="application/json", class_="bg-chart__data") if chart.figure else ""


def _table(chart: Chart) -> str:
    table = table_html(chart.table, f"{chart.id}-table")
    return tag("details", tag("summary", "Show as a table"), table, class_="bg-chart__table")


def _cell(cell: Cell, column: Column, heads: bool) -> str:
    words = escape(cell.words)
    inside = tag("a", words, href=str(cell.target)) if cell.target and words else words
    name, scope = ("th", "row") if heads else ("td", None)
    return f"<{name}{_attributes(scope, _number(column))}>{inside}</{name}>"


def _attributes(scope: str | None, class_: str | None) -> str:
    return (f' scope="{scope}"' if scope else "") + (f' class="{class_}"' if class_ else "")


def _number(column: Column) -> str | None:
    return "bg-table__num" if column.number else None
