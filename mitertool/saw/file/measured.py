"""Figures of a saw file as a shop can measure them, made into those that a saw is reckoned by; the one place for it.

In a square cut a place along the blade, counted from the swing axis, lies as far from the fixed jaw's face and
`swing_axis` less.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import ARMS, BladeArm, HingedArm
from mitertool.quantity.keys import exact
from mitertool.saw.file.scale import SIDES
from mitertool.words import phrase

Said = Mapping[str, Any]
"""What the keys of a table say, lengths in mm."""

FROM_JAW: Final = {"hinge_y": "hinge_u", "stop_y": "stop_u", "fixed_y": "fixed_u"}
"""Places along the blade from the fixed jaw's face, and the same from the swing axis."""

MADE_OF: Final[Mapping[tuple[str, str], tuple[str, ...]]] = {
    ("arm", "hinge_u"): ("hinge_y",),
    ("arm", "stop_u"): ("stop_y",),
    ("arm", "lift_highest"): ("lift_height", "lift_at"),
    ("guides", "fixed_u"): ("fixed_y",),
    ("guides", "half_thickness"): ("thickness",),
}
"""Keys that have another form, by table, with the keys of that form."""


def arm_of(kind: str, said: Said, swing_axis: float | None) -> BladeArm:
    """The arm of a kind of saw. Raises `BadInput` for one that could not come out of the bed."""
    found = from_axis(said, swing_axis)
    height, at = found.pop("lift_height", None), found.pop("lift_at", None)
    arm = ARMS[kind](**found)
    if isinstance(arm, HingedArm):
        _check_hinge(arm)
    if height is not None:
        arm = _lifted(arm, height, at - _axis(swing_axis, "lift_at"))
    if arm.unit == "mm" and arm.lift_highest is not None and arm.lift_highest <= arm.below_bed:
        raise BadInput("lift_highest", exact(arm.lift_highest), phrase("refuse.lift"))
    return arm


def guides_of(said: Said, swing_axis: float | None) -> dict[str, Any]:
    """What the guides are reckoned by."""
    found = from_axis(said, swing_axis)
    if "thickness" in found:
        found["half_thickness"] = found.pop("thickness") / 2
    return found


def obstacles_of(said: Said) -> Iterator[dict[str, Any]]:
    """The thing that a table tells of; a plate with a slot is one on either side of the blade."""
    if "slot" not in said:
        yield dict(said)
        return
    rest = {key: value for key, value in said.items() if key not in ("slot", "edge", "name")}
    for side, edge in slot_edges(said).items():
        yield {**rest, "name": f"{said['name']}, {side}", "side": side, "edge": edge}


def slot_edges(said: Said) -> dict[str, float]:
    """How far the edge of a slot on either side stands from the square cut line, mm."""
    edge = said.get("edge", said["slot"] / 2)
    return {side: edge if side == "discharge" else said["slot"] - edge for side in SIDES}


def from_axis(said: Said, swing_axis: float | None) -> dict[str, Any]:
    """The same with every place along the blade counted from the swing axis. Raises `BadInput` without a swing axis."""
    return {
        FROM_JAW.get(key, key): value - _axis(swing_axis, key) if key in FROM_JAW else value
        for key, value in said.items()
    }


def _axis(swing_axis: float | None, key: str) -> float:
    if swing_axis is None:
        raise BadInput(key, phrase("found.no-axis"), phrase("refuse.axis-needed"))
    return swing_axis


def _check_hinge(arm: HingedArm) -> None:
    if abs(arm.hinge_u) <= abs(arm.below_hinge):
        raise BadInput("hinge_u", exact(arm.hinge_u), phrase("refuse.hinge"))


def _lifted(arm: BladeArm, height: float, u: float) -> BladeArm:
    """The arm with its highest lift: where its edge passes through that height at u."""
    if isinstance(arm, HingedArm) and arm.reach_of(u) <= abs(arm.below_hinge):
        nearest = exact(abs(arm.below_hinge), "refuse.past-hinge")
        raise BadInput("lift_at", exact(arm.reach_of(u), "found.from-hinge"), nearest)
    return attrs.evolve(arm, lift_highest=arm.position(u, height))
