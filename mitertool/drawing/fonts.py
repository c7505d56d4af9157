"""Where the font files are that hold what Helvetica does not; loads no drawing library."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path
from typing import Final

from mitertool.base.errors import BadInput

CAP_HEIGHT: Final = 1493 / 2048
"""Height of a capital of DejaVu Sans in font sizes: yMax of the glyph H in the file, 2048 units an em."""


def dejavu(bold: bool = False) -> Path:
    """The file of DejaVu Sans that matplotlib ships; found without loading matplotlib.

    Raises `BadInput` where it is not there.
    """
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    found = find_spec("matplotlib")
    places = found.submodule_search_locations or [] if found else []
    files = [Path(place, "mpl-data", "fonts", "ttf", name) for place in places]
    file = next((file for file in files if file.is_file()), None)
    if file is None:
        raise BadInput("lettering font", name, "it comes with matplotlib; install that from its wheel")
    return file
