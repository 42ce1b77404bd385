"""Units as pint knows them: its registry takes half a second to make, so there is one a process."""

from __future__ import annotations

import pint

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
