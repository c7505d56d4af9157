"""A correction kept in a saw file, the rest of the file as it was; knows the file and the scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, Final

import attrs
import tomlkit

from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole
from mitertool.piece import Piece
from mitertool.quantity.tables import read_toml
from mitertool.quantity.toml_text import with_values
from mitertool.saw.proof.measured import Measured
from mitertool.saw.saw import Saw
from mitertool.words import counted, phrase

_DECIMALS: Final = 3
"""A thousandth of a degree is far below what any protractor shows."""


@attrs.frozen
class Kept:
    """The saw as its file reads afterwards, and what was kept, or why nothing was, a clause each."""

    saw: Saw
    says: tuple[str, ...]


def measurement(piece: Piece, measured: Measured) -> str:
    """A measured piece in words, mm and degrees, by which it is known again; the width it is judged at left out."""
    drawn = f"{piece.section.name}, {piece.length:.8g} {piece.at}, {piece.left.miter:.8g} and {piece.right.miter:.8g}"
    values = ((name, getattr(measured, name)) for name in ("long", "short", "left", "right"))
    told = ", ".join(f"{name} {value:.8g}" for name, value in values if value is not None)
    return " ".join(f"{drawn}: {told}".split())


def keep_offset(path: str | Path, offset: float, day: date, measured: str) -> Kept:
    """Write `offset` (degrees), its day and the measurement it is from into [scale] of a saw file.

    It is written whole or not at all, where a link leads, everything else of the file as it was. A measurement that is
    in the file's correction already, as the last or as an earlier one, is not kept again: it was made before that
    correction. Raises `BadInput` where the file is no saw file, would be none with that offset, or may not be written.
    """
    file = Path(path)
    before = Saw.load(file)
    earlier = before.scale.offset_from if before.scale.offset else ()
    if measured in earlier:
        return Kept(before, (_again(before),))
    values = {
        "offset": round(offset, _DECIMALS) + 0.0,
        "offset_date": day,
        "offset_from": _as_one([*earlier, measured]),
    }
    saw = _write(file, values)
    says = [phrase("kept.offset", file=path, offset=f"{offset:.{_DECIMALS}f}")]
    if before.scale.offset_date == str(day):
        says.append(phrase("kept.adds", before=before.scale.offset))
    return Kept(saw, tuple(says))


def _again(saw: Saw) -> str:
    """Why a measurement is not kept twice, and what to do; a new piece may measure the same to the last figure."""
    kept = saw.scale
    return counted("kept.again", len(kept.offset_from), offset=kept.offset, day=kept.offset_date)


def _as_one(measured: Sequence[str]) -> Any:
    """A text where there is one measurement, else a list with a line for each."""
    if len(measured) == 1:
        return measured[0]
    texts = tomlkit.array()
    texts.extend(measured)
    return texts.multiline(True)


def _write(file: Path, values: Mapping[str, Any]) -> Saw:
    if not file.stat().st_mode & 0o222:
        raise BadInput(phrase("what.saw-file"), str(file), phrase("refuse.write-protected"))
    text = file.read_bytes().decode("utf-8")
    top = read_toml(file)
    changed = {**top.values, "scale": {**top.values["scale"], **values}}
    saw = Saw.read(attrs.evolve(top, values=changed))
    write_whole(file, with_values(text, ("scale",), values, file.name).encode())
    return saw
