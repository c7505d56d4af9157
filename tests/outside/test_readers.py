"""Every gallery packet as readers of other hands find it: DXF through GDAL, PDF through PDFium, codes through ZXing.

pyogrio 0.13.0 (MIT; GDAL 3.12.4), pypdfium2 5.15.2 (Apache-2.0 or BSD-3-Clause), zxing-cpp 3.1.1 (Apache-2.0). What
they find is held against plan.json and pieces.csv by formulas of two planes: L(y, z) is linear in y and z, a face is
sqrt(1 + p^2 + q^2) as large as its section, a volume is the area times L at the centroid. A sketch is taken apart by
its captions: each view stands above its own, the faces and the section in a row, each right of where its caption
begins.
"""

from __future__ import annotations

import csv
import io
import json
import math
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from tests.packet import rounding
from tests.packet.jobs import GALLERY, ROOT

pytestmark = pytest.mark.outside

STEP = 0.1
"""degrees. The reader draws arcs as chords over this angle; their area falls short by STEP^2/6 in radians, 5e-7."""

AREA = 2e-6
"""relative, on areas of sections that may be all arcs."""

EXACT = 1e-6
"""mm, on straight lines and on the extremes of arcs that the chords meet."""

CURVED = 1e-3
"""mm, on the extremes of ellipses: chords over 0.1 degree stay 4e-7 of a half axis inside."""

Feature = tuple[str, str, str, Any]
"""Layer, text, handle of the entity (of a dimension for all its parts), and shape."""


@cache
def made(name: str) -> dict[str, bytes]:
    return packet_files(solve(load(ROOT / "gallery" / name / "job.toml")), Options(codes=True))


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(made(name)["pieces.csv"].decode("utf-8"))))


def plan(name: str) -> dict[str, Any]:
    """The records of plan.json by mark; an opposite hand has the lengths of the piece as drawn and its cuts swapped."""
    found = {}
    for piece in json.loads(made(name)["plan.json"])["pieces"]:
        found[piece["mark"]] = piece
        found[f"{piece['mark']}-OH"] = {**piece, "left": piece["right"], "right": piece["left"], "reach": None}
    return found


def features(content: bytes, folder: Path) -> list[Feature]:
    """Everything in the model of a DXF file, through GDAL."""
    import pyogrio
    import shapely

    # Release 2010 is UTF-8 by the DXF reference; the reader goes by the code page in the header unless it is told.
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": str(STEP), "DXF_ENCODING": "UTF-8"})
    path = folder / "sketch.dxf"
    path.write_bytes(content)
    meta, _, shapes, columns = pyogrio.raw.read(path)
    by_name = dict(zip(meta["fields"], columns, strict=True))
    texts = [text or "" for text in by_name["Text"]]
    return list(zip(by_name["Layer"], texts, by_name["EntityHandle"], shapely.from_wkb(shapes), strict=True))


class Sketch:
    """The outlines of a sketch by view, and its dimensions."""

    def __init__(self, found: list[Feature]) -> None:
        self.found = found
        self.outlines = [shape for layer, _, _, shape in found if layer == "outline"]

    def caption(self, start: str) -> Any:
        return next(shape for _, text, _, shape in self.found if text.startswith(start))

    def between(self, low: str, high: str = "") -> list[Any]:
        top = self.caption(high).y if high else math.inf
        return [line for line in self.outlines if self.caption(low).y < line.bounds[1] and line.bounds[3] < top]

    def in_row(self, start: str, after: str = "") -> list[Any]:
        left, right = self.caption(start).x, self.caption(after).x if after else math.inf
        high = self.caption("front view").y
        row = [line for line in self.outlines if line.bounds[3] < high]
        return [line for line in row if left < line.bounds[0] and line.bounds[2] < right]

    def measured(self) -> list[tuple[str, float]]:
        """The words of every straight dimension, and how far apart its two extension lines are."""
        parts: dict[str, list[Feature]] = {}
        for feature in self.found:
            parts.setdefault(feature[2], []).append(feature)
        found = []
        for group in parts.values():
            says = "".join(text for _, text, _, _ in group)
            lines = [shape for layer, _, _, shape in group if layer == "dimension" and straight(shape)]
            if len(lines) == 3:
                found.append((says, lines[0].distance(lines[1])))
        return found


def straight(shape: Any) -> bool:
    return bool(shape.geom_type == "LineString" and len(shape.coords) == 2)


def size(lines: list[Any]) -> tuple[float, float]:
    import shapely

    x0, y0, x1, y1 = shapely.total_bounds(lines)
    return x1 - x0, y1 - y0


def material(lines: list[Any]) -> Any:
    """The region inside the outermost of the outlines and outside all others."""
    import shapely

    joined = shapely.unary_union(shapely.set_precision(shapely.force_2d(lines), 1e-7))
    faces = shapely.polygonize([joined]).geoms
    return max(faces, key=lambda face: face.envelope.area)


def along_the_bar(line: Any) -> bool:
    """Whether a line of the top view is straight and runs along the bar; on a stub the line of a cut is the longer."""
    return bool(straight(line)) and size([line])[1] < EXACT


def stretch(cut: dict[str, float]) -> float:
    """Area of a face over the area of its section."""
    miter, bevel = math.radians(cut["miter_deg"]), math.radians(cut["bevel_deg"])
    return math.sqrt(1 + math.tan(miter) ** 2 + (math.tan(bevel) / math.cos(miter)) ** 2)


def at_centroid(record: dict[str, Any], region: Any) -> float:
    """L at the centroid of a region, from the lengths at the edges of its box."""
    edges, (x0, y0, x1, y1) = record["edges_mm"], region.bounds
    across, above = (region.centroid.x - x0) / (x1 - x0), (region.centroid.y - y0) / (y1 - y0)
    first = edges["fixed_bottom"]
    return first + across * (edges["moving_bottom"] - first) + above * (edges["fixed_top"] - first)


def halves(region: Any) -> tuple[Any, Any]:
    """A region on the fixed and on the moving side of the middle of its box."""
    from shapely.geometry import box

    x0, y0, x1, y1 = region.bounds
    middle = (x0 + x1) / 2
    return region & box(x0, y0, middle, y1), region & box(middle, y0, x1, y1)


def volume(record: dict[str, Any], region: Any) -> float:
    """Area times L at the centroid; cut twice at the left end, of each half of the section by itself."""
    if not record["left_further"]:
        return float(region.area * at_centroid(record, region))
    x0, _, x1, _ = region.bounds
    middle, edges = record["centerline_mm"], record["edges_mm"]
    fixed, moving = halves(region)
    from_fixed, to_moving = (fixed.centroid.x - x0) / (x1 - x0) * 2, (x1 - moving.centroid.x) / (x1 - x0) * 2
    return float(
        fixed.area * (edges["fixed_bottom"] + from_fixed * (middle - edges["fixed_bottom"]))
        + moving.area * (edges["moving_bottom"] + to_moving * (middle - edges["moving_bottom"]))
    )


def faces(record: dict[str, Any], end: str, region: Any) -> list[tuple[str, float]]:
    """Caption and area of each face at an end; of two cuts that meet in the middle, each leaves its half."""
    first, *further = record[end], *record[f"{end}_further"]
    if not further:
        return [(f"{end} end face", region.area * stretch(first))]
    fixed, moving = halves(region)
    areas = moving.area * stretch(first), fixed.area * stretch(further[0])
    return [(f"{end} end, face of cut {number}", area) for number, area in enumerate(areas, 1)]


def sketches(name: str, folder: Path) -> list[tuple[dict[str, Any], Sketch]]:
    records = plan(name)
    return [
        (records[row["mark"]], Sketch(features(made(name)[f"sketches/{row['mark']}.dxf"], folder)))
        for row in rows(name)
    ]


@pytest.mark.parametrize("name", GALLERY)
def test_lengths_and_areas_of_every_sketch(name: str, tmp_path: Path) -> None:
    for record, sketch in sketches(name, tmp_path):
        top, front = sketch.between("top view"), sketch.between("front view", "top view")
        region = material(sketch.in_row("section as it lies", "right end face"))
        assert size(top) == pytest.approx((record["overall_mm"], size([region])[0]), abs=CURVED), record["mark"]
        assert size(front) == pytest.approx((record["overall_mm"], size([region])[1]), abs=CURVED), record["mark"]
        assert volume(record, region) == pytest.approx(record["volume_mm3"], rel=AREA), record["mark"]
        left, right = faces(record, "left", region), faces(record, "right", region)
        captions = [*(caption for caption, _ in left), "section as it lies"]
        for (start, area), after in zip([*left, *right], [*captions[1:], *([""] * len(right))], strict=True):
            assert material(sketch.in_row(start, after)).area == pytest.approx(area, rel=AREA), (record["mark"], start)
        if not record["left"]["bevel_deg"] and not record["right"]["bevel_deg"]:
            longest = max(line.length for line in top if along_the_bar(line))
            assert longest == pytest.approx(record["long_point_mm"], abs=EXACT), record["mark"]


@pytest.mark.parametrize("name", GALLERY)
def test_dimensions_of_every_sketch(name: str, tmp_path: Path) -> None:
    for record, sketch in sketches(name, tmp_path):
        measured = sketch.measured()
        for words, key in (
            ("long point", "long_point_mm"),
            ("short point", "short_point_mm"),
            ("overall", "overall_mm"),
        ):
            found = [length for says, length in measured if says.startswith(f"{words} ")]
            alike = abs(record[key] - record["long_point_mm"]) < EXACT
            wanted = [] if alike and words != "long point" else [record[key]]
            assert found == pytest.approx(wanted, abs=EXACT), f"{record['mark']}: {words}"


@pytest.mark.parametrize("name", GALLERY)
def test_the_drawing_of_all_marks(name: str, tmp_path: Path) -> None:
    everything = Sketch(features(made(name)["sketches/all.dxf"], tmp_path))
    marks = [row["mark"] for row in rows(name)]
    assert [text for _, text, _, _ in everything.found if text in set(marks)] == marks
    found = [length for says, length in everything.measured() if says.startswith("long point ")]
    assert found == pytest.approx([plan(name)[mark]["long_point_mm"] for mark in marks], abs=EXACT)


@pytest.mark.parametrize("name", GALLERY)
def test_no_drawing_needs_repair(name: str) -> None:
    from ezdxf.filemanagement import read

    drawings = [content for file, content in made(name).items() if file.endswith(".dxf")]
    assert len(drawings) > len(rows(name))
    for content in drawings:
        audit = read(io.StringIO(content.decode("utf-8"), newline=None)).audit()
        assert (audit.errors, audit.fixes) == ([], [])


def pages(content: bytes) -> list[str]:
    """The text of every page with single spaces."""
    import pypdfium2

    with pypdfium2.PdfDocument(content) as document:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


def units(name: str) -> str:
    job = tomllib.loads((ROOT / "gallery" / name / "job.toml").read_text(encoding="utf-8"))
    return str(job["job"].get("units", "mm"))


def readings(record: dict[str, Any]) -> list[str]:
    """What must be set at both ends: the scale's reading, or degrees from square where there is no saw."""
    if record["reach"] is None:
        return []
    reaches = [(record["reach"][end], record[end]) for end in ("left", "right")]
    return [rounding.angle(reach["scale_deg"] if reach else abs(cut["miter_deg"])) for reach, cut in reaches]


@pytest.mark.parametrize("name", GALLERY)
def test_the_cut_sheet_says_what_the_plan_says(name: str) -> None:
    found = pages(made(name)["cut-sheet.pdf"])
    assert all(f"page {number} of {len(found)}" in text for number, text in enumerate(found, 1))
    digest = json.loads(made(name)["plan.json"])["inputs"]
    assert all(digest in text for text in found)
    records = plan(name)
    for mark in (row["mark"] for row in rows(name)):
        record = records[mark]
        lengths = [rounding.length(record[key], units(name)) for key in ("long_point_mm", "short_point_mm")]
        wanted = [mark, record["section"], *lengths, *readings(record)]
        assert any(all(word in text for word in wanted) for text in found), wanted


@pytest.mark.parametrize("name", GALLERY)
def test_every_pdf_opens(name: str) -> None:
    documents = {file: pages(content) for file, content in made(name).items() if file.endswith(".pdf")}
    assert {"cut-sheet.pdf", "labels.pdf"} <= set(documents)
    assert all(text for found in documents.values() for text in found)


@pytest.mark.parametrize("name", GALLERY)
def test_there_is_a_label_for_every_piece(name: str) -> None:
    found = " ".join(pages(made(name)["labels.pdf"]))
    for row in rows(name):
        length = rounding.length(float(row["long_point_mm"]), units(name))
        told = found.count(f"long point {length}") + found.count(f"{length} long, R ")
        assert told >= int(row["quantity"]), row["mark"]
        assert found.count(row["mark"]) >= int(row["quantity"])


@pytest.mark.parametrize("name", GALLERY)
def test_the_codes_of_the_labels(name: str) -> None:
    """Printed at 300 dots an inch: job, mark, and which of how many."""
    import pypdfium2
    import zxingcpp

    with pypdfium2.PdfDocument(made(name)["labels.pdf"]) as document:
        pictures = [page.render(scale=300 / 72).to_pil().convert("L") for page in document]
    found = [code.text for picture in pictures for code in zxingcpp.read_barcodes(picture)]
    job = json.loads(made(name)["plan.json"])["job"]
    counts = [(row["mark"], int(row["quantity"])) for row in rows(name)]
    wanted = [f"{job}|{mark}|{n}/{count}" for mark, count in counts for n in range(1, count + 1)]
    assert sorted(found) == sorted(wanted)
