"""Where the sample site and the frame lie, and the sample's pages."""

from __future__ import annotations

import re
from pathlib import Path

SAMPLE = Path(__file__).parent / "sample"
OVERRIDES = Path(__file__).parents[2] / "theme_overrides"
PAGES = (
    "index", "tasks/index", "tasks/swap-pump", "tasks/collect-plates",
    "reference", "learning", "cards", "play", "prose",
)  # fmt: skip


def read_tokens(sheet: str) -> dict[str, dict[str, str]]:
    """Colours of `light` and `dark`, name to `#rrggbb`; the dark ones are those of the `slate` block over the light."""
    day, _, rest = sheet.partition("@media screen")
    night = rest.partition("/* The theme's")[0]
    found = [dict(re.findall(r"--bg-([a-z0-9-]+): (#[0-9a-f]{6})", part)) for part in (day, night)]
    return {"light": found[0], "dark": found[0] | found[1]}
