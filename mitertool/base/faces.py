"""The faces of letters that Helvetica has not: their files, which letters they have, how wide; opens a file when asked.

DejaVu Sans has Latin, Greek, Cyrillic and signs; WenQuanYi Micro Hei has Han, kana and Hangul. Both come in packages,
whose files are found without loading them.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from functools import cache
from importlib.util import find_spec
from itertools import groupby
from pathlib import Path
from typing import Any, Final

from attrs import field, frozen

from mitertool.base.errors import BadInput
from mitertool.words import phrase


@frozen
class Typeface:
    """A face by its `name`: the `place` of its file in the `package` that carries it, and its `cap` height.

    The height of a capital is that of the glyph H in the file, in font sizes.
    """

    name: str
    package: str
    place: tuple[str, ...]
    cap: float = field(eq=False)

    @property
    def file(self) -> Path:
        """The file, found without loading its package. Raises `BadInput` where it is not there."""
        found = find_spec(self.package)
        folders = found.submodule_search_locations or [] if found else []
        file = next((file for file in (Path(folder, *self.place) for folder in folders) if file.is_file()), None)
        if file is None:
            raise BadInput(phrase("what.font"), self.place[-1], phrase("refuse.font", package=self.package))
        return file

    def has(self, one: str) -> bool:
        """Whether the face has a shape for a letter."""
        return ord(one) in _shapes(self)

    def advance(self, one: str) -> float:
        """How far a letter of the face moves on, in font sizes. Raises `KeyError` where the face has none."""
        width: float = _open(self)["hmtx"][_shapes(self)[ord(one)]][0] / _open(self)["head"].unitsPerEm
        return width

    def outline(self, one: str) -> Hashable:
        """What a letter of the face looks like: equal for equal shapes. Raises `KeyError` where it has none."""
        from fontTools.pens.recordingPen import DecomposingRecordingPen

        glyphs = _open(self).getGlyphSet()
        pen = DecomposingRecordingPen(glyphs)
        glyphs[_shapes(self)[ord(one)]].draw(pen)
        return self.name, self.advance(one), repr(pen.value)


_TRUE_TYPE: Final = ("mpl-data", "fonts", "ttf")

DEJAVU: Final = Typeface("DejaVu Sans", "matplotlib", (*_TRUE_TYPE, "DejaVuSans.ttf"), 1493 / 2048)
DEJAVU_BOLD: Final = Typeface("DejaVu Sans Bold", "matplotlib", (*_TRUE_TYPE, "DejaVuSans-Bold.ttf"), 1493 / 2048)
MICRO_HEI: Final = Typeface("WenQuanYi Micro Hei", "paperang_p2_fonts_cjk", ("fonts", "wqy-microhei.ttc"), 1462 / 2048)
"""Its letters have one weight, which stands for bold too."""


def faces(bold: bool = False) -> tuple[Typeface, ...]:
    """The faces in the order in which a letter is looked for."""
    return DEJAVU_BOLD if bold else DEJAVU, MICRO_HEI


def face_of(one: str, bold: bool = False) -> Typeface | None:
    """The first face that has a letter; None where none has it."""
    return next((face for face in faces(bold) if face.has(one)), None)


def runs(text: str, bold: bool = False) -> Iterator[tuple[Typeface, str]]:
    """The text in stretches of one face; a letter that none has goes with the first, which draws a box."""
    first = faces(bold)[0]
    for face, letters in groupby(text, key=lambda one: face_of(one, bold) or first):
        yield face, "".join(letters)


@cache
def _open(face: Typeface) -> Any:
    from fontTools.ttLib import TTFont

    return TTFont(face.file, fontNumber=0, lazy=True)


@cache
def _shapes(face: Typeface) -> dict[int, str]:
    """The names of the shapes by the number of the letter."""
    return dict(_open(face).getBestCmap())
