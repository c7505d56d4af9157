"""The saw as its own file tells of it: what a reading of the scale makes the arm do, and where the blade then stands.

Places at the saw: d along the bar against the feed, 0 over the swing axis; y from the fixed jaw; z up from the bed.
Looking with the feed, a fixed jaw on the left makes (d, y, z) right-handed; with it on the right (-d, y, z) is.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from math import cos, hypot, inf, radians, tan
from pathlib import Path
from typing import Any

from tests.virtual_saw.figures import MM, length
from tests.virtual_saw.steel import Plane


@dataclass(frozen=True)
class Machine:
    """What the saw file says, mm and degrees."""

    square: float
    grows_to_feed: bool
    two_sided: bool
    feed_most: float
    discharge_most: float
    division: float
    offset: float
    tilt: tuple[float, float] | None
    kerf: float
    axis: float | None
    blade_offset: float
    jaw_left: bool
    grip: float
    feed: dict[str, Any] | None
    units: str = "mm"

    @property
    def counts_kerf(self) -> bool:
        return bool(self.feed and self.feed.get("counts_kerf"))

    @property
    def takes(self) -> tuple[float, float]:
        """mm. The shortest and the longest length that can be keyed."""
        shortest, longest = (self.feed or {}).get("shortest", 0.0), (self.feed or {}).get("longest", inf)
        return length(shortest, self.units), longest if longest == inf else length(longest, self.units)

    @property
    def key_step(self) -> float:
        """mm. One step of the last figure keyed: decimals as the file says, else two of an inch, one of a mm."""
        decimals = (self.feed or {}).get("decimals", 1 if self.units == "mm" else 2)
        return MM[self.units] * 10.0**-decimals

    def swing(self, reading: float, side: str) -> float:
        """How far the arm stands from square, positive with the blade's moving-jaw end on the feed side.

        The kept offset is what the scale reads too much: of one that reads up both ways, toward the feed side.
        """
        if self.two_sided:
            return (-reading if side == "discharge" else reading) - self.offset
        return (reading - self.square - self.offset) * (1.0 if self.grows_to_feed else -1.0)

    def refuses(self, swing: float, tilt: float) -> str:
        """Why the arm or the blade does not go there; "" where it does."""
        if not -self.discharge_most - SLACK <= swing <= self.feed_most + SLACK:
            return f"the arm does not swing to {swing:.6g}"
        low, high = self.tilt or (0.0, 0.0)
        return "" if low - SLACK <= tilt <= high + SLACK else f"the blade does not tilt to {tilt:.6g}"

    def blade(self, swing: float, tilt: float) -> tuple[Plane, float]:
        """The middle of the blade, and half of what its kerf takes along the bar."""
        p = tan(radians(swing))
        q = tan(radians(tilt)) / cos(radians(swing))
        middle = (self.blade_offset / cos(radians(swing)) - p * (self.axis or 0.0), p, q)
        return middle, self.kerf / 2 * hypot(1.0, p, q)


def plain(job: dict[str, Any]) -> Machine:
    """Where a job names no saw file: angles are degrees from square, positive to the feed side, left ends lead."""
    nest, units = job.get("nest", {}), job["job"].get("units", "mm")
    kerf, grip = (length(nest.get(key, 0.0), units) for key in ("kerf", "grip"))
    return Machine(0.0, True, False, 90.0, 90.0, 1.0, 0.0, (-90.0, 90.0), kerf, None, 0.0, True, grip, None)


SLACK = 1e-6
"""degrees. An arm reaches this far past its stop."""


def read(path: Path, job: dict[str, Any]) -> Machine:
    """The saw file; kerf and grip of the job go before those of the saw."""
    file = tomllib.loads(path.read_text())
    units = file["saw"].get("units", "mm")
    scale, bed, vise = file["scale"], file.get("bed", {}), file["vise"]
    nest, job_units = job.get("nest", {}), job["job"].get("units", "mm")
    tilt = file.get("tilt")

    def taken(key: str, table: dict[str, Any]) -> float:
        return length(nest[key], job_units) if key in nest else length(table.get(key, 0.0), units)

    return Machine(
        square=float(scale["square"]),
        grows_to_feed=scale.get("positive", "feed-side") == "feed-side",
        two_sided=scale.get("two_sided", False),
        feed_most=float(scale["feed_side_most"]),
        discharge_most=float(scale["discharge_side_most"]),
        division=float(scale.get("division", 1.0)),
        offset=float(scale.get("offset", 0.0)),
        tilt=(float(tilt["lowest"]), float(tilt["highest"])) if tilt else None,
        kerf=taken("kerf", file["saw"]),
        axis=length(bed["swing_axis"], units) if "swing_axis" in bed else None,
        blade_offset=length(bed.get("blade_offset", 0.0), units),
        jaw_left=vise["fixed_jaw"] == "left",
        grip=taken("grip", vise),
        feed=file.get("feed"),
        units=units,
    )
