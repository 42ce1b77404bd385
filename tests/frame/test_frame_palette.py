"""Contrasts of the palette, by WCAG 2.2: criteria 1.4.3 (text, 4.5:1) and 1.4.11 (shapes with a meaning, 3:1)."""

from __future__ import annotations

import re

import pytest
import wcag_contrast_ratio  # type: ignore[import-untyped]

from briefgen.model.fields.choices import COLOURS
from tests.browser_tools import contrast
from tests.frame.sample_site import OVERRIDES

GROUNDS = ("paper", "surface", "sunk", "glow", "brand-soft", "right-soft")
SIGNALS = ("danger", "warning", "caution", "notice")
SOFT = ("hold-soft", *(f"{signal}-soft" for signal in SIGNALS))
LANES = tuple(f"lane-{n}" for n in range(1, 7))

TEXT = [
    *(("ink", ground) for ground in (*GROUNDS, *SOFT)),
    *(("ink-soft", ground) for ground in ("paper", "surface", "sunk", "brand-soft", *SOFT)),
    *(("link", ground) for ground in (*GROUNDS, *SOFT)),
    *(("link-strong", ground) for ground in ("paper", "surface", "brand-soft")),
    *((f"on-{name}", name) for name in ("brand", "hold", *SIGNALS)),
    *((f"{signal}-ink", ground) for signal in SIGNALS for ground in (f"{signal}-soft", "surface", "paper")),
    *((name, "sunk") for name in ("link", "right", "hold", "caution-ink")),
    *((name, "surface") for name in ("link", "right", "hold", "caution-ink")),
    ("right", "right-soft"),
    *(("on-lane", lane) for lane in LANES),
    ("ink", "wait"), ("ink", "night"), ("ink", "reserve"), ("ink", "slack"),
]  # fmt: skip
SHAPES = [
    *((name, "paper") for name in ("edge", "focus", "critical", "limit", "optional", "hold", *LANES)),
    *((name, "surface") for name in ("edge", "focus", "critical", "limit", "optional", "hold", *LANES)),
]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("front", "ground"), TEXT)
def test_text_reads_on_its_ground(tokens: dict[str, dict[str, str]], scheme: str, front: str, ground: str) -> None:
    assert contrast(tokens[scheme][front], tokens[scheme][ground]) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("front", "ground"), SHAPES)
def test_shapes_stand_out(tokens: dict[str, dict[str, str]], scheme: str, front: str, ground: str) -> None:
    assert contrast(tokens[scheme][front], tokens[scheme][ground]) >= 3


def test_every_colour_is_said_for_the_night_as_well() -> None:
    day, _, rest = (OVERRIDES / "styles" / "tokens.css").read_text(encoding="utf-8").partition("@media screen")
    colours = [set(re.findall(r"--bg-([a-z0-9-]+): #", part)) for part in (day, rest)]
    assert len(colours[0]) > 40
    assert colours[0] == colours[1]


def test_our_formula_agrees_with_the_reference_library(tokens: dict[str, dict[str, str]]) -> None:
    # Against the package wcag-contrast-ratio, an independent implementation of the same definition.
    for palette in tokens.values():
        for colour in palette.values():
            other = wcag_contrast_ratio.rgb(_parts(colour), _parts(palette["paper"]))
            assert contrast(colour, palette["paper"]) == pytest.approx(other, rel=0.002)


def _parts(colour: str) -> tuple[float, ...]:
    return tuple(int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))


STRIPES = tuple(f"stripe-{colour}" for colour in COLOURS)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("stripe", STRIPES)
def test_a_marks_colour_stands_out_from_whatever_is_behind_it(
    tokens: dict[str, dict[str, str]], scheme: str, stripe: str
) -> None:
    # WCAG 2.2, criterion 1.4.11, by the package wcag-contrast-ratio: 3 to 1 for a shape that says who is who, on every
    # ground on which a name may stand, and as a line over a picture; by day on a sheet of paper, too.
    palette = tokens[scheme]
    grounds = [palette[name] for name in (*GROUNDS, *SOFT, "halo")] + ["#ffffff"] * (scheme == "light")
    assert min(wcag_contrast_ratio.rgb(_parts(palette[stripe]), _parts(ground)) for ground in grounds) >= 3
    # Criterion 1.4.3: words stand on a person's bars, and the pattern within their disc.
    assert wcag_contrast_ratio.rgb(_parts(palette[stripe]), _parts(palette["on-lane"])) >= 4.5


def test_there_is_a_colour_for_every_name_and_none_besides(tokens: dict[str, dict[str, str]]) -> None:
    drawn = (OVERRIDES / "styles" / "person.css").read_text(encoding="utf-8")
    for palette in tokens.values():
        assert sorted(name for name in palette if name.startswith("stripe-")) == sorted(STRIPES)
        assert len({palette[stripe] for stripe in STRIPES}) == len(STRIPES) == 8
    assert re.findall(r'\[data-colour="([a-z]+)"\] \{\n  --bg-stripe: var\(--bg-stripe-\1\);', drawn) == [*COLOURS]
    charts = (OVERRIDES.parent / "briefgen" / "assets" / "charts.css").read_text(encoding="utf-8")
    for colour in COLOURS:
        day = tokens["light"][f"stripe-{colour}"]
        assert f"--bg-c-stripe-{colour}: var(--bg-stripe-{colour}, {day});" in charts
        assert f".c-stripe-{colour} {{ --lane: var(--bg-c-stripe-{colour}); }}" in charts
