"""What holds for all writers: the same bytes in every process, and no library loaded before it is needed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

TWICE = """
import hashlib, sys
from mitertool.drawing import *
from mitertool.drawing import dxf, pdf, png, svg

drawing = Drawing((
    Arc((20, 20), 10, 30, 200, OUTLINE),
    Polygon([(0, 0), (30, 0), (15, 9)], FILL, 0.5),
    Dimension((0, 0), (30, 0), -8, "30"),
    AngleDimension((0, 0), 0, 60, 12, "60\u00b0"),
    Text((0, 40), "plain (text)", 3.5),
    Text((0, 50), "\u0141\u00f3d\u017a \u2264 \u03a9", 3.5, bold=True),
    Text((0, 60), "\u2265 other", 3.5),
))
other = Drawing((Text((0, 0), "\u03a9 \u2264", 5), Dimension((0, 0), (9, 9), 5, "13")))
write = {
    "pdf": lambda drawing: pdf.write([Page(*A4, drawing)] * 2, "Title", "Subject"),
    "dxf": lambda drawing: dxf.write(drawing, "Title", 2.0),
    "svg": svg.write,
    "png": png.write,
}
for kind in sys.argv[1:]:
    print(*(hashlib.sha256(write[kind](each)).hexdigest() for each in (drawing, other, drawing)))
"""


def run(code, *arguments, seed="0"):
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed}
    command = [sys.executable, "-c", code, *arguments]
    return subprocess.run(command, env=environment, check=True, capture_output=True, text=True).stdout.split()


def test_the_same_drawing_gives_the_same_bytes_in_every_process():
    found, later = (run(TWICE, "pdf", "dxf", "svg", "png", seed=seed) for seed in "12")
    assert len(found) == 12
    assert found[0::3] == found[2::3]
    assert all(first != other for first, other in zip(found[0::3], found[1::3], strict=True))
    assert later == found


LIBRARIES = {"reportlab", "ezdxf", "matplotlib", "numpy"}


def test_the_drawing_loads_no_drawing_library():
    load = "import sys; from mitertool.drawing import Drawing, Page, Text, text_width"
    assert not LIBRARIES & set(run(f"{load}; print(*sys.modules)"))


@pytest.mark.parametrize(
    ("module", "library"), [("pdf", "reportlab"), ("dxf", None), ("png", "matplotlib"), ("svg", None)]
)
def test_a_writer_loads_its_own_library_and_no_other(module, library):
    load = "import sys; from mitertool import drawing as room"
    what = "[room.Page(50, 50, drawing)], 'Title'" if module == "pdf" else "drawing"
    write = f"drawing = room.Drawing((room.Text((0, 0), '\\u2264', 3),)); room.{module}.write({what})"
    loaded = LIBRARIES & set(run(f"{load}; {write}; print(*sys.modules)"))
    assert loaded - {"numpy"} == ({library} if library else set())
