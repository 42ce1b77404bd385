"""The few words between which a field chooses."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator

from briefgen.model.fields.values import scalar


def _plain(value: Any) -> str:
    return str(scalar(value))


_PLAIN = BeforeValidator(_plain)
Post = Annotated[Literal["outside", "inside", "ground"], _PLAIN]
Pattern = Annotated[Literal["plain", "bars", "rings", "dots", "checks", "chevrons"], _PLAIN]
Colour = Annotated[Literal["red", "orange", "yellow", "green", "teal", "blue", "violet", "pink"], _PLAIN]
Signal = Annotated[Literal["danger", "warning", "caution", "notice"], _PLAIN]
Priority = Annotated[Literal["required", "time-permitting", "get-ahead"], _PLAIN]
Effort = Annotated[Literal["rest", "light", "moderate", "hard"], _PLAIN]
Rushed = Annotated[Literal["together"], _PLAIN]
Sight = Annotated[Literal["clear", "mirror", "by feel"], _PLAIN]
Turning = Annotated[Literal["clockwise", "counter-clockwise"], _PLAIN]

PATTERNS: tuple[str, ...] = get_args(get_args(Pattern)[0])
COLOURS: tuple[str, ...] = get_args(get_args(Colour)[0])
OTHER_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "scarlet": "red", "crimson": "red", "maroon": "red", "amber": "orange", "brown": "orange", "rust": "orange",
        "gold": "yellow", "golden": "yellow", "ochre": "yellow", "olive": "green", "lime": "green", "cyan": "teal",
        "turquoise": "teal", "aqua": "teal", "navy": "blue", "azure": "blue", "purple": "violet", "lilac": "violet",
        "mauve": "violet", "indigo": "violet", "magenta": "pink", "fuchsia": "pink", "rose": "pink",
        "white": "", "black": "", "grey": "", "gray": "", "silver": "",
    }
)  # fmt: skip
"""What else people call a colour of marks. White, black and grey are none: they are suits, ink, and people inside."""
