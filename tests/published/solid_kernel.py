"""The cases of `data/solid_kernel_cases.json`: read, built, and held against their values.

See `test_solid_kernel` for where they come from.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import mitertool as mt

Case = dict[str, Any]

_FILE: Final = Path(__file__).with_name("data") / "solid_kernel_cases.json"
CASES: Final[dict[str, Case]] = {case["id"]: case for case in json.loads(_FILE.read_text(encoding="utf-8"))["cases"]}


def section_of(given: dict[str, Any]) -> mt.Section:
    """The section of a case; widths lie along y, heights along z, as the file says."""
    match given["kind"]:
        case "rect_tube":
            return mt.rect_tube(given["B"], given["H"], given["t"], given["ro"], given["ri"])
        case "round_tube":
            return mt.round_tube(given["D"], given["t"])
        case "round_bar":
            return mt.round_bar(given["D"])
        case "square_bar":
            return mt.flat(given["a"], given["a"])
        case "flat":
            return mt.flat(given["B"], given["H"])
        case "angle":
            return mt.angle(given["b"], given["a"], given["t"], given["r1"], given["r2"])
        case "channel_parallel":
            return mt.channel(given["b"], given["h"], given["tw"], given["tf"], given["r"])
        case "channel_taper":
            radii = (given["r1"], given["r2"])
            taper = given["slope"] * 100
            return mt.channel(given["b"], given["h"], given["tw"], given["tf"], *radii, taper, "half-width")
        case "i_parallel":
            return mt.i_section(given["b"], given["h"], given["tw"], given["tf"], given["r"])
    raise AssertionError(f"no shape for {given['kind']}")


def piece_of(case: Case) -> mt.Piece:
    """The piece of a case, by the length s of the line y = 0, z = 0."""
    left, right = mt.Cut(case["m_l"], case["b_l"]), mt.Cut(case["m_r"], case["b_r"])
    return mt.Piece(section_of(case["section"]), case["s"], left, right, at="fixed-bottom")


def found(case: Case) -> Iterator[tuple[str, float]]:
    """Every value of a case, by its name in the file, as the package has it."""
    piece = piece_of(case)
    section, left, right = piece.section, piece.left.face(piece.section), piece.right.face(piece.section)
    yield "section_area", section.area
    yield "section_perimeter", section.perimeter
    yield "section_cy", section.centroid[0]
    yield "section_cz", section.centroid[1]
    yield "cut_area_l", left.area
    yield "cut_area_r", right.area
    yield "cut_perimeter_l", left.perimeter
    yield "cut_perimeter_r", right.perimeter
    yield "volume", piece.volume
    yield "tip_to_tip", piece.overall
    yield "long_point", piece.long_point
    yield "short_point", piece.short_point
    yield "face_width_r", right.width
    yield "face_height_r", right.height
    for percent in (25, 50, 75):
        yield f"contact_{percent}_r", right.contact(section.height * percent / 100)
    yield "contact_max_r", right.largest_contact


def check_value(case: Case, name: str) -> None:
    """One value of a case within the tolerance that the file gives for it."""
    value = dict(found(case))[name]
    expected, tolerance = case["expected"][name], case["tol"][name]
    assert abs(value - expected) <= tolerance, f"{case['id']} {name}: {value!r}, kernel {expected!r} +- {tolerance:.1g}"
