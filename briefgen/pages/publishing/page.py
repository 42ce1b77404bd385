"""A page as data: where it lies, what it is called, and the rows that its template prints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Page:
    """One page. `uri` has no ending; `rows` are ready to print; `order` sorts within the section.

    A page that is not `listed` is no part of the navigation: other pages lead to it.
    """

    uri: str
    title: str
    section: str
    template: str
    rows: Mapping[str, Any]
    about: str = ""
    icon: str = ""
    order: tuple[int, ...] = field(default=(1,))
    listed: bool = True
