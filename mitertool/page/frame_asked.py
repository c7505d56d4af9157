"""A frame as an address asks for it: its shape, its sizes as typed, a saw; read by the reader of jobs; knows job."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any, Final

from attrs import frozen

from mitertool.job import Solution, one_frame
from mitertool.job.frame_keys import FRAME
from mitertool.page.folder import Folder
from mitertool.page.saws import saw_of
from mitertool.quantity import Units, units
from mitertool.quantity.form import kinds_of, meant
from mitertool.quantity.keys import Key

DRAWING: Final = "drawing"
"""The shape whose lines stand in a file of the folder."""

USUAL: Final[Mapping[str, Mapping[str, str]]] = {
    "rectangle": {"section": "SHS 50x50x3", "lay": "", "width": "1200", "height": "800", "measured": "outside"},
    "polygon": {"section": "SHS 40x40x3", "lay": "", "sides": "6", "across_flats": "900", "measured": "outside"},
    "drawing": {"section": "SHS 30x30x2", "file": "", "layer": "", "line": "centerline"},
    "brace": {"section": "SHS 50x50x3", "lay": "", "inside_width": "1000", "inside_height": "900", "ends": "point"},
    "infill": {"section": "ROUND 12", "opening": "1800", "height": "900", "clear_most": "100"},
    "hopper": {
        "thickness": "5",
        "sides": "4",
        "bottom": "120 100",
        "top": "260 220",
        "height": "120",
        "measured": "inside",
    },
    "rail": {"section": "CHS 42.4x3.2", "nodes": "0,0,900 1200,0,900 2800,0,1900 3100,900,1900"},
    "bend": {"section": "CHS 168.3x6.3", "radius": "300", "angle": "90", "cuts": "4"},
    "sloping": {
        "section": "SHS 50x50x3",
        "lay": "",
        "width": "1200",
        "height": "1900",
        "right_height": "1500",
        "measured": "outside",
    },
    "trapezoid": {
        "section": "SHS 50x50x3",
        "lay": "",
        "bottom": "1200",
        "top": "800",
        "height": "900",
        "measured": "outside",
    },
    "arch": {
        "section": "RHS 40x60x3",
        "lay": "",
        "width": "1800",
        "height": "2000",
        "rise": "400",
        "chords": "6",
        "measured": "outside",
    },
    "truss": {"section": "SHS 50x50x3", "lay": "", "span": "3000", "rise": "900", "measured": "centerline"},
    "ladder": {"section": "SHS 40x40x3", "lay": "", "width": "500", "height": "2400", "pitch": "300"},
    "cross": {"section": "SHS 40x40x3", "lay": "", "inside_width": "1100", "inside_height": "1200"},
    "branch": {"section": "CHS 60.3x4", "on": "CHS 114.3x5", "length": "400", "between": "60"},
    "wye": {"section": "CHS 114.3x5", "between": "90", "trunk": "500", "arms": "400"},
}
"""What a shape is shown with at first, its empty keys beside those; in inches these lengths carry their unit."""

_IN_FILE: Final = {"drawing_units": "units"}
"""Keys of a table whose names are taken on the screen: by their name there, that of the table."""

_POINTS: Final = ("points", "nodes", "flights")
"""Keys of several places, typed with commas in a place and spaces between places."""

_SEVERAL: Final = ("section", "legs", "ends", "bottom", "top", "lengths", "angles", "tangents", "arms")
"""Keys that take one value or several, typed with semicolons, or with spaces where no value has one."""

_SPACED: Final = ("section",)
"""Of those the keys whose values have spaces in them."""

_OWN: Final = ("mark", "shape")


@frozen
class FrameAsked:
    """A frame by its shape and its keys as they are typed, the units of bare numbers, and a saw file, "" for none."""

    shape: str
    typed: Mapping[str, str]
    units: str = "mm"
    saw: str = ""

    @classmethod
    def of(cls, query: Mapping[str, str], saw: str) -> FrameAsked:
        """What an address asks for; at first a usual frame on `saw`, of a shape that is there."""
        shape = query.get("shape", "rectangle")
        shape = shape if shape in USUAL else "rectangle"
        keys = keys_of(shape)
        typed = {key: query[key].strip() for key in keys if query.get(key, "").strip()}
        first = not any(key in query for key in keys)
        unit = query.get("units", "mm")
        usual = {key: _with_unit(value, keys[key], unit) for key, value in USUAL[shape].items() if value}
        return cls(shape, usual if first else typed, unit, query.get("saw", saw))

    @property
    def told(self) -> dict[str, str]:
        """All that its address holds."""
        return {"shape": self.shape, "units": self.units, "saw": self.saw, **self.typed}

    @property
    def table(self) -> dict[str, Any]:
        """The keys of its [[frame]] table. Raises `BadInput` for what is no value."""
        keys = keys_of(self.shape)
        return {
            "mark": "F",
            "shape": self.shape,
            **{_IN_FILE.get(key, key): _value(key, keys[key], self.typed[key]) for key in self.typed},
        }

    def unit(self) -> Units:
        """The units of bare numbers. Raises `BadInput` for others than there are."""
        return units(self.units, "units")

    @property
    def chooses(self) -> bool:
        """Whether a drawing is to be chosen first."""
        return self.shape == DRAWING and "file" not in self.typed

    def solved(self, folder: Folder) -> Solution:
        """The frame solved. Raises `BadInput` for anything that is not as it should be."""
        if self.typed.get("file"):
            folder.file(self.typed["file"])
        return one_frame(self.table, self.unit(), saw_of(folder, self.saw), folder.root)


def keys_of(shape: str) -> dict[str, Key]:
    """The keys of a shape, those by which it is shown at first before the others."""
    shown = {name: one for one, name in _IN_FILE.items()}
    keys = {shown.get(name, name): key for name, key in FRAME.each[shape].keys.items() if name not in _OWN}
    return {name: keys[name] for name in (*(one for one in USUAL[shape] if one in keys), *keys)}


def _value(name: str, key: Key, typed: str) -> Any:
    if name in _POINTS and not typed.startswith("["):
        return [[_bare(one) for one in place.split(",")] for place in typed.split()]
    if name in _SEVERAL and not typed.startswith("["):
        parts = typed.split(";") if ";" in typed or name in _SPACED else typed.split()
        found = [meant(part, None, kinds_of(key) if name in _SPACED else ()) for part in parts]
        return found if len(found) > 1 else found[0]
    if name == "inside" and not typed.startswith("["):
        return [_inside(line) for line in typed.split(";") if line.strip()]
    return meant(typed, None, kinds_of(key))


def _bare(text: str) -> Any:
    found = meant(text, None, ())
    return "" if found is None else found


def _inside(text: str) -> Any:
    """A table of bars, typed as in a job without its braces."""
    try:
        return tomllib.loads(f"bars = {{ {text} }}")["bars"]
    except tomllib.TOMLDecodeError:
        return text


def _with_unit(value: str, key: Key, unit: str) -> str:
    """A usual value where lengths are read in inches: a length of it carries its mm."""
    is_length = key.kind.show is not None and value.replace(".", "").isdigit()
    return f"{value} mm" if unit != "mm" and is_length else value
