"""The stored packet of every gallery job says what is made now: content, not bytes, so that a library may change.

After a change that is meant, `python gallery/make.py` makes them anew; the difference then stands in the review.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import pytest
from PIL import Image
from pypdf import PdfReader

from mitertool.drawing import OUTLINE, THIN, Drawing, Line, dxf
from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files

ROOT = Path(__file__).resolve().parents[2]
JOBS = tuple(sorted(path.parent.name for path in (ROOT / "gallery").glob("*/job.toml")))
SAME = 1e-9
"""mm, degrees, kg: rounding of another machine's sines stays below it on lengths of up to 1e5 mm."""

LARGEST_PACKET = 1_400_000
"""Bytes: sketches and templates of a job of eight marks, its sheet, page and card; a repository is cloned whole."""
LARGEST_PICTURE = 200_000


@cache
def made(name: str) -> dict[str, bytes]:
    """The files of a job's packet as they are made now."""
    return packet_files(solve(load(ROOT / "gallery" / name / "job.toml")), Options())


@cache
def stored(name: str) -> dict[str, bytes]:
    """The files of a job's packet as they lie in the gallery, the list of them left out."""
    folder = ROOT / "gallery" / name / "packet"
    files = (path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("."))
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def test_there_are_worked_jobs() -> None:
    assert {"boathouse-gate", "hatch-frame"} <= set(JOBS)


@pytest.mark.parametrize("name", JOBS)
def test_the_packet_has_its_files(name: str) -> None:
    assert sorted(stored(name)) == sorted(made(name))
    assert {"cut-sheet.pdf", "pieces.csv", "plan.json"} <= set(stored(name))
    assert sum(map(len, stored(name).values())) < LARGEST_PACKET


def same(one: Any, other: Any) -> bool:
    """Whether two parsed values are equal, numbers to `SAME` or 12 digits."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float) or isinstance(other, float):
        return bool(other == pytest.approx(one, rel=1e-12, abs=SAME))
    return type(one) is type(other) and bool(one == other)


def test_the_comparison_bites() -> None:
    record = {"a": [1.0, "x", True], "b": {"c": 2}}
    assert same(record, {"a": [1.0 + 1e-10, "x", True], "b": {"c": 2}})
    assert not same(record, {"a": [1.0 + 1e-8, "x", True], "b": {"c": 2}})
    assert not same(record, {"a": [1.0, "x", 1], "b": {"c": 2}})
    assert not same(record, {"a": [1.0, "x"], "b": {"c": 2}})
    assert not same(record, {"b": {"c": 2}, "a": [1.0, "x", True]})


def rows(content: bytes) -> list[list[Any]]:
    """A table with its numbers read."""
    return [[number(cell) for cell in row] for row in csv.reader(io.StringIO(content.decode("utf-8")))]


def number(cell: str) -> Any:
    try:
        return float(cell)
    except ValueError:
        return cell


@pytest.mark.parametrize("name", JOBS)
def test_the_tables_are_those_made_now(name: str) -> None:
    for file in sorted(stored(name)):
        if file.endswith(".csv"):
            assert same(rows(stored(name)[file]), rows(made(name)[file])), file
        if file.endswith(".json"):
            assert same(json.loads(stored(name)[file]), json.loads(made(name)[file])), file


def pages(content: bytes) -> list[tuple[float, ...] | str]:
    """The size and the text of every page."""
    return [
        part for page in PdfReader(io.BytesIO(content)).pages for part in (tuple(page.mediabox), page.extract_text())
    ]


@pytest.mark.parametrize("name", JOBS)
def test_every_page_says_what_is_made_now(name: str) -> None:
    for file in sorted(stored(name)):
        if file.endswith(".pdf"):
            assert pages(stored(name)[file]) == pages(made(name)[file]), file


PLACES = ("start", "end", "center", "major_axis", "insert", "align_point", "defpoint", "defpoint2", "defpoint3")
SIZES = ("radius", "ratio", "start_angle", "end_angle", "start_param", "end_param", "rotation", "height", "angle")
WORDS = ("text", "dimstyle", "style", "geometry")

Entity = tuple[tuple[str, ...], tuple[float, ...]]


def entities(content: bytes) -> list[Entity]:
    """Every entity of every block, the model being one: type, layer and words, and its coordinates and sizes."""
    file = ezdxf.filemanagement.read(io.StringIO(content.decode("utf-8"), newline=None))
    found = [entity for block in file.blocks for entity in block]
    return [((entity.dxftype(), entity.dxf.layer, *words(entity)), tuple(numbers(entity))) for entity in found]


def words(entity: Any) -> Iterable[str]:
    return (str(entity.dxf.get(key)) for key in WORDS if entity.dxf.hasattr(key))


def numbers(entity: Any) -> Iterable[float]:
    for key in PLACES:
        if entity.dxf.hasattr(key):
            yield from entity.dxf.get(key).xyz
    yield from (float(entity.dxf.get(key)) for key in SIZES if entity.dxf.hasattr(key))
    if entity.dxftype() == "LWPOLYLINE":
        yield from (value for point in entity.get_points("xyb") for value in point)


def test_the_comparison_of_sketches_bites() -> None:
    one, moved = (entities(dxf.write(Drawing([Line((0, 0), (100 + by, 0), OUTLINE)]))) for by in (0, 1e-6))
    other = entities(dxf.write(Drawing([Line((0, 0), (100, 0), THIN)])))
    assert len(one) == 1
    assert one[0][0] == moved[0][0] != other[0][0]
    assert one[0][1] != pytest.approx(moved[0][1], abs=SAME)


@pytest.mark.parametrize("name", JOBS)
def test_every_sketch_holds_what_is_made_now(name: str) -> None:
    for file in sorted(stored(name)):
        if file.endswith(".dxf"):
            now, then = (entities(files[file]) for files in (made(name), stored(name)))
            assert [entity[0] for entity in then] == [entity[0] for entity in now], file
            for (what, here), (_, there) in zip(now, then, strict=True):
                assert there == pytest.approx(here, abs=SAME), f"{file}: {what}"


@pytest.mark.parametrize("name", JOBS)
def test_a_short_text_tells_of_the_job_and_how_its_frames_close(name: str) -> None:
    text = (ROOT / "gallery" / name / "README.md").read_text(encoding="utf-8")
    assert "](cut-sheet.png)" in text
    assert f"mitertool packet gallery/{name}/job.toml --out " in text
    for assembly in json.loads(made(name)["plan.json"])["assemblies"]:
        closure = assembly["closure"]
        within = "0.000001 mm"
        if assembly["shape"] == "branch":  # straight cuts come near a saddle, and say how near
            within = f"{closure['gap_mm']:.2f} mm"
        else:
            assert max(closure["gap_mm"], closure["overlap_mm"]) < 1e-6
        assert f"| {assembly['mark']} | {within} | {closure['rounded_gap_mm']:.2f} mm |" in text


@pytest.mark.parametrize("name", JOBS)
def test_the_picture_shows_a_page(name: str) -> None:
    path = ROOT / "gallery" / name / "cut-sheet.png"
    assert path.stat().st_size < LARGEST_PICTURE
    with Image.open(path) as picture:
        assert picture.format == "PNG"
        assert min(picture.size) > 700
        darkest, lightest = picture.convert("L").getextrema()
        assert (darkest, lightest) == (0, 255)
