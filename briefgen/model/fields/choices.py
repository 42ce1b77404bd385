"""The few words between which a field chooses."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator

from briefgen.model.fields.values import scalar


def _plain(value: Any) -> str:
    return str(scalar(value))


_PLAIN = BeforeValidator(_plain)
Post = Annotated[Literal["outside", "inside", "ground"], _PLAIN]
Pattern = Annotated[Literal["plain", "bars", "rings", "dots", "checks", "chevrons"], _PLAIN]
Signal = Annotated[Literal["danger", "warning", "caution", "notice"], _PLAIN]
Priority = Annotated[Literal["required", "time-permitting", "get-ahead"], _PLAIN]
Effort = Annotated[Literal["rest", "light", "moderate", "hard"], _PLAIN]
Rushed = Annotated[Literal["together"], _PLAIN]
Sight = Annotated[Literal["clear", "mirror", "by feel"], _PLAIN]
Turning = Annotated[Literal["clockwise", "counter-clockwise"], _PLAIN]
