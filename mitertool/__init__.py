"""mitertool: exact miter geometry for structural sections, from a frame drawing to a cut sheet.

The public names are loaded when they are first used, so that a command loads only what it needs.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from mitertool import frame, nest
    from mitertool.base.errors import BadInput, CannotMake, MitertoolError, UnknownName
    from mitertool.cut import Cut, Face
    from mitertool.cut.ends import Further
    from mitertool.frame import corner
    from mitertool.piece import Piece, Split, batch, split
    from mitertool.saw import Saw
    from mitertool.sections import Section, section
    from mitertool.sections.own import from_dxf
    from mitertool.sections.shapes.angle import angle
    from mitertool.sections.shapes.channel import channel
    from mitertool.sections.shapes.flat import flat
    from mitertool.sections.shapes.i_section import i_section
    from mitertool.sections.shapes.rect_tube import rect_tube
    from mitertool.sections.shapes.round_bar import round_bar
    from mitertool.sections.shapes.round_tube import round_tube
    from mitertool.sections.shapes.tee import tee
    from mitertool.sections.shapes.z import z_section

__version__: Final = "0.1.0"

_ROOMS: Final = {
    **dict.fromkeys(("BadInput", "CannotMake", "MitertoolError", "UnknownName"), "mitertool.base.errors"),
    **dict.fromkeys(("Section", "section"), "mitertool.sections"),
    **{
        name: f"mitertool.sections.shapes.{name}"
        for name in ("angle", "channel", "flat", "i_section", "rect_tube", "round_bar", "round_tube", "tee")
    },
    "z_section": "mitertool.sections.shapes.z",
    "from_dxf": "mitertool.sections.own",
    **dict.fromkeys(("Cut", "Face"), "mitertool.cut"),
    **dict.fromkeys(("Piece", "Split", "split"), "mitertool.piece"),
    "Further": "mitertool.cut.ends",
    "corner": "mitertool.frame",
    "Saw": "mitertool.saw",
}
_MODULES: Final = {"batch": "mitertool.piece.batch", "frame": "mitertool.frame", "nest": "mitertool.nest"}

__all__ = [
    "BadInput",
    "CannotMake",
    "Cut",
    "Face",
    "Further",
    "MitertoolError",
    "Piece",
    "Saw",
    "Section",
    "Split",
    "UnknownName",
    "__version__",
    "angle",
    "batch",
    "channel",
    "corner",
    "flat",
    "frame",
    "from_dxf",
    "i_section",
    "nest",
    "rect_tube",
    "round_bar",
    "round_tube",
    "section",
    "split",
    "tee",
    "z_section",
]


def __getattr__(name: str) -> object:
    if name in _MODULES:
        return import_module(_MODULES[name])
    if name in _ROOMS:
        return getattr(import_module(_ROOMS[name]), name)
    raise AttributeError(f"module 'mitertool' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted(__all__)
