"""`mitertool frame SHAPE` for the frames of few sizes: options made of the keys that each declares; knows cli.frame."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

import typer

from mitertool.cli.commands import choice, command, options
from mitertool.cli.frame import Filled, Framed, InOpening, Joined, Lying, solve_frame, told
from mitertool.frame import outlines
from mitertool.job.frame_keys import FRAME
from mitertool.quantity.keys import Key
from mitertool.quantity.kinds import FLAG
from mitertool.sections import shapes


def _does(word: str) -> Callable[[Any], None]:
    """What the command of an outline does."""

    def does(o: Any) -> None:
        o.may_sketch()
        solve_frame(word, o, {key: value for key, value in o.keys().items() if value is not False})

    return does


def _options(word: str) -> type[Any]:
    """The options of an outline: its own keys, then those of frames of its kind."""
    outline = outlines.of(word)
    ring = {"measured": Annotated[str, choice(_codes(word, "measured"), shapes.tape_words())]} if outline.ring else {}
    hints = {**{name: _option(word, name, key) for name, key in outline.keys.items()}, **ring}
    spare = {name: False if _is_flag(key) else "" for name, key in outline.keys.items() if not key.needed}
    bases = (*((InOpening,) if outline.sized else ()), Filled, *((Joined, Lying) if outline.ring else ()), Framed)
    made = type(word.title(), bases, {"__annotations__": hints, "__module__": __name__, **spare})
    return options(made)


def _option(word: str, name: str, key: Key) -> Any:
    """An option for a key, by the kind of its value."""
    if _is_flag(key):
        return Annotated[bool, typer.Option(f"--{name.replace('_', '-')}", help=_codes(word, name))]
    allowed = key.kind.schema.get("enum")
    if allowed:
        return Annotated[str, choice(_codes(word, name), allowed)]
    return Annotated[str, told(word, name, metavar="COUNT" if "integer" in key.kind.schema["type"] else "LENGTH")]


def _is_flag(key: Key) -> bool:
    return key.kind is FLAG


def _codes(word: str, name: str) -> str:
    return "\n".join(FRAME.each[word].keys[name].codes)


sloping = command(
    _options("sloping"),
    "frame sloping --section 'SHS 50x50x3' --width 1200 --height 1900 --right-height 1500 --measured outside",
    "frame sloping --section 'SHS 50x50x3' --width 1200 --height 1900 --right-height 1500 --measured "
    "outside --inside \"bars='uprights', section='ROUND 12', clear_most=110\"",
)(_does("sloping"))
trapezoid = command(
    _options("trapezoid"),
    "frame trapezoid --section 'SHS 50x50x3' --bottom 1200 --top 800 --height 900 --measured outside",
    "frame trapezoid --section 'SHS 50x50x3' --bottom 1200 --top 800 --height 900 --stands-in 0 --measured centerline",
)(_does("trapezoid"))
arch = command(
    _options("arch"),
    "frame arch --section 'RHS 40x60x3' --width 1800 --height 2000 --rise 400 --chords 6 --measured outside",
    "frame arch --section 'RHS 40x60x3' --opening-width 3400 --opening-height 2000 --hinge-gap 25 "
    "--meeting-gap 15 --floor-gap 60 --leaves 2 --half --rise 400 --chords 4 --measured outside",
)(_does("arch"))
truss = command(
    _options("truss"),
    "frame truss --section 'SHS 50x50x3' --span 3000 --rise 900 --measured centerline",
    "frame truss --section 'SHS 50x50x3' --section 'SHS 50x50x3' --section 'SHS 30x30x3' --span 4000 "
    "--rise 1000 --panels 4 --measured outside",
)(_does("truss"))
ladder = command(
    _options("ladder"),
    "frame ladder --section 'RHS 40x60x3' --section 'SHS 30x30x3' --width 450 --height 3000 --pitch 280",
    "frame ladder --section 'SHS 40x40x3' --width 500 --height 2400 --pitch 300 --first 200",
)(_does("ladder"))
cross = command(
    _options("cross"),
    "frame cross --section 'SHS 40x40x3' --inside-width 1100 --inside-height 1700",
    "frame cross --section 'FLAT 50x8' --inside-width 1100 --inside-height 1700 --crossing lapped",
)(_does("cross"))
