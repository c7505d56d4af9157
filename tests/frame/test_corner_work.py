"""What is worked at corners after the saw, by hand: coped and notched ends, plates on open ends, bevels.

At a corner of S degrees what lies square to a face takes it over sin S along a member. A frame of these allowances
closes as it does without them: each end that butts lies a known way past the face it meets, each open end stays back by
its plate.
"""

from __future__ import annotations

import io
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from tests.frame.runs import HEAD, around, checked, frame, refusal, table, tube
from tests.often import times

T = tube("T", 50)
BUTT = {"width": 1000, "height": 600, "measured": "outside", "corners": "butt"}


def lengths(record: dict[str, Any]) -> list[float]:
    """The outer edges around the frame."""
    closure = record["assemblies"][0]["closure"]
    assert max(closure["gap_mm"], closure["overlap_mm"]) < 1e-6
    return [piece["edges_mm"]["moving_bottom"] for piece in around(record)]


def solved(folder: Path, *more: str, shape: str = "rectangle", **keys: object) -> dict[str, Any]:
    return checked(folder, *(more or (T,)), frame(shape, **{**BUTT, **keys}))


@pytest.mark.parametrize("through", ["width", "height"])
def test_a_coped_end_reaches_past_what_it_meets(tmp_path: Path, through: str) -> None:
    """600 or 1000 less twice 50, the gap of 2 left open, 12 more at either end."""
    record = solved(tmp_path, through=through, cope=12, root_gap=2)
    off = 2 * (50 + 2 - 12)
    whole = (1000, 600 - off) if through == "width" else (1000 - off, 600)
    assert lengths(record) == pytest.approx([*whole, *whole])
    mark = "F-2" if through == "width" else "F-1"
    says = f"butted ends of {mark} reach 12 mm past the face that they meet: cope or notch them that deep"
    assert says in record["assemblies"][0]["notes"]
    joints = record["assemblies"][0]["joints"]
    assert {(one["gap_mm"], one["reach_mm"]) for one in joints} == {(2, 12)}


def test_angle_with_its_flat_leg_notched(tmp_path: Path) -> None:
    """Legs of 50, 5 thick: the standing leg runs on to the one it meets, 5 from the outside; the flat one loses 45."""
    angle = table("section", name="A", shape="angle", width=50, height=50, thickness=5, root_radius=0, toe_radius=0)
    record = checked(tmp_path, angle, frame("rectangle", "A", **BUTT, heel="out", leg="up", notch="leg"))
    assert lengths(record) == pytest.approx([1000, 600 - 2 * 5] * 2)
    (says,) = (note for note in record["assemblies"][0]["notes"] if "notch" in note)
    assert says.startswith("butted ends of F-2: notch the flat leg with its heel 45 mm back from the end and 5 mm up")


@pytest.mark.parametrize("through", ["width", "height"])
def test_plates_on_the_open_ends(tmp_path: Path, through: str) -> None:
    """The members that run through stay back by 4 at either end; the others stand as without plates."""
    record = solved(tmp_path, through=through, cap=4)
    whole = (1000 - 8, 600 - 100) if through == "width" else (1000 - 100, 600 - 8)
    assert lengths(record) == pytest.approx([*whole, *whole])
    mark = "F-1" if through == "width" else "F-2"
    says = (
        f"plate F-CAP1: 4 a frame, 50 mm by 50 mm, 4 mm thick, on the open ends of {mark}, which are shorter by as much"
    )
    assert says in record["assemblies"][0]["notes"]


def test_a_plate_and_a_cope_at_slanting_corners(tmp_path: Path) -> None:
    """A trapezoid of 1000 and 400 over 300, corners of 45 and 135: all over sin 45, and the plates are longer by it."""
    sizes = {"bottom": 1000, "top": 400, "height": 300, "measured": "outside", "corners": "butt"}
    plain, worked = (
        lengths(checked(tmp_path, T, frame("trapezoid", **sizes, **more))) for more in ({}, {"cap": 4, "cope": 10})
    )
    s = math.sin(math.radians(45))
    assert [b - a for a, b in zip(plain, worked, strict=True)] == pytest.approx([(10 - 4) / s] * 4)
    notes = checked(tmp_path, T, frame("trapezoid", **sizes, cap=4))["assemblies"][0]["notes"]
    assert any(f"{50 / s:.5g} mm by 50 mm" in note for note in notes)


def test_lengths_to_the_root_or_to_the_face_of_a_bevel(tmp_path: Path) -> None:
    """To the root nothing is added; to the face a butted joint of 3 leaves 3 - 2 there, a mitered one 5 - 2 x 2."""
    assert lengths(solved(tmp_path, root_gap=3, bevel=2, length_to="root")) == pytest.approx([1000, 494] * 2)
    assert lengths(solved(tmp_path, root_gap=3, bevel=2, length_to="face")) == pytest.approx([1000, 498] * 2)
    mitered = solved(tmp_path, corners="miter", root_gap=5, bevel=2, length_to="face")
    back = 0.5 / math.cos(math.radians(45))
    assert lengths(mitered) == pytest.approx([1000 - 2 * back, 600 - 2 * back] * 2)
    told = [note for note in mitered["assemblies"][0]["notes"] if "bevel back 2 mm" in note]
    assert len(told) == 1
    assert "drawn to the face" in told[0]


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"cope": 60}, "cope: found '60 mm'; at most the width of the member that is met"),
        ({"corners": "miter", "cope": 5}, "cope: found '5 mm'; only where a corner is butted"),
        ({"corners": "miter", "cap": 5}, "cap: found '5 mm'; only where a corner is butted"),
        ({"notch": "leg"}, "notch: found 'leg'; only in angle that lies with its heel out"),
        ({"root_gap": 1, "bevel": 2, "length_to": "face"}, "at least 2 mm: what the bevels of a joint take"),
        ({"bevel": 2}, "length_to"),
        ({"cope": 5, "notch": "leg"}, "notch"),
    ],
)
def test_what_makes_no_corner(tmp_path: Path, keys: dict[str, object], says: str) -> None:
    assert says in refusal(tmp_path, T, frame("rectangle", **{**BUTT, **keys}))


LAW = settings(
    deadline=None,
    max_examples=times(4),
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
KINDS = st.sampled_from(["miter", "first-through", "second-through"])


@LAW
@given(
    st.tuples(*[st.integers(-200, 200)] * 8),
    st.lists(KINDS, min_size=4, max_size=4),
    st.floats(0.5, 20),
    st.floats(0.5, 20),
)
def test_any_four_corners_close_with_plates_and_copes(
    tmp_path: Path, off: tuple[int, ...], kinds: list[str], cope: float, cap: float
) -> None:
    """Laid out by the half planes of the corners asked for: each piece ends on the line of its cut, 50 wide."""
    kinds = ["first-through", *kinds[1:]]
    square = [0, 1000, 1400, 1000, 1400, 0, 0, 0]
    points = [[square[i] + off[i], square[i + 1] + off[i + 1]] for i in range(0, 8, 2)]
    record = checked(
        tmp_path,
        T,
        frame("polygon", points=points, measured="outside", corners=kinds, cope=round(cope, 3), cap=round(cap, 3)),
    )
    corners = [complex(*point) for point in points]
    expected = []
    for i in range(4):
        before, here, after, beyond = (corners[(i + k) % 4] for k in (-1, 0, 1, 2))
        left = back(kinds[i - 1], before - here, after - here, round(cope, 3), round(cap, 3), second=True)
        right = back(kinds[i], beyond - after, here - after, round(cope, 3), round(cap, 3), second=False)
        expected.append(abs(after - here) - left - right)
    assert lengths(record) == pytest.approx(expected, abs=1e-6)


def back(kind: str, a: complex, b: complex, cope: float, cap: float, second: bool) -> float:
    """How far an outer edge stays back from its corner, whose two edges run along a and b."""
    sine = abs((a.conjugate() * b).imag) / abs(a) / abs(b)
    if kind == "miter":
        return 0.0
    through = (kind == "second-through") == second
    return (cap if through else 50 - cope) / sine


def worked(record: dict[str, Any]) -> dict[str, list[str]]:
    return {piece["mark"]: piece.get("worked", []) for piece in record["pieces"]}


def test_what_is_done_at_its_ends_stands_with_each_piece(tmp_path: Path) -> None:
    """The rails run through and have plates on both ends; the posts butt, are coped, and are beveled, at both ends."""
    record = solved(tmp_path, cope=12, cap=4, bevel=2, length_to="root", root_gap=2)
    assert worked(record) == {
        "F-1": ["both ends: plate F-CAP1, 50 mm by 50 mm, 4 mm thick"],
        "F-2": ["both ends: cope 12 mm deep", "both ends: bevel back 2 mm outside"],
    }


def briefly(line: str) -> str:
    """What is done without the sizes and the number of a plate."""
    return line.partition(",")[0].rstrip("12")


def test_ends_that_differ_are_told_each(tmp_path: Path) -> None:
    """Walked clockwise from the lower left, side 1 runs through its right corner and is mitered at its left one."""
    points = [[0, 0], [0, 600], [1000, 700], [1000, 0]]
    kinds = ["first-through", "first-through", "miter", "miter"]
    record = checked(
        tmp_path,
        T,
        frame("polygon", points=points, measured="outside", corners=kinds, cope=10, cap=4, bevel=1, length_to="root"),
    )
    cope, plate = "left end: cope 10 mm deep", "right end: plate F-CAP"
    told = {
        mark: sorted(line.partition(",")[0].rstrip("12") for line in lines) for mark, lines in worked(record).items()
    }
    assert told == {
        "F-1": ["left end: bevel back 1 mm outside", plate],
        "F-2": ["left end: bevel back 1 mm outside", cope, plate],
        "F-3": ["both ends: bevel back 1 mm outside", cope],
        "F-4": ["both ends: bevel back 1 mm outside"],
    }


def test_the_floor_reads_it_where_it_holds_the_piece(tmp_path: Path) -> None:
    """On the row of its first cut, labels, sketch and page; of an opposite hand at the other end."""
    angle = table("section", name="A", shape="angle", width=50, height=50, thickness=5)
    sizes = {"opening_width": 2000, "opening_height": 900, "leaves": 2, "right_height": 700, "measured": "outside"}
    kinds = ["first-through", "miter", "miter", "second-through"]
    more = {"corners": kinds, "heel": "out", "leg": "up", "notch": "leg"}
    stock = table("stock", section="A", length=6000)
    (tmp_path / "job.toml").write_text(
        "\n".join([HEAD, angle, frame("sloping", "A", **sizes, **more), stock, "[nest]\nkerf = 1"])
    )
    files = packet_files(solve(load(tmp_path / "job.toml")), Options())
    says = "end: notch the flat leg 45 mm back, 5 mm up"
    read = {name: PdfReader(io.BytesIO(files[name])).pages for name in ("cut-sheet.pdf", "labels.pdf")}
    text = {name: " ".join(" ".join(page.extract_text() for page in pages).split()) for name, pages in read.items()}
    assert f"left {says}" in text["cut-sheet.pdf"]
    assert f"right {says}" in text["cut-sheet.pdf"]
    assert "L -11.3, R 45, L notched 45 x 5 " in text["labels.pdf"]
    assert "L 45, R -11.3, R notched 45 x 5 " in text["labels.pdf"]
    assert f"left {says}" in files["cut-sheet.html"].decode()
    assert f"left {says}" in files["sketches/F-2.dxf"].decode()
    assert f"right {says}" in files["sketches/F-2-OH.dxf"].decode()


def test_free_ends_of_an_open_frame_have_plates(tmp_path: Path) -> None:
    """Three sides of 500, 800 and 500 by the outside: the free ends stay back by 5 each, plates as the tube."""
    points = [[0, 0], [0, 500], [800, 500], [800, 0]]
    keys = {"points": points, "closed": False, "measured": "outside"}
    record = checked(tmp_path, T, frame("polygon", **keys, cap=5))
    assert [piece["edges_mm"]["moving_bottom"] for piece in around(record)] == pytest.approx([495, 800, 495])
    assert worked(record)["F-1"] == ["left end: plate F-CAP1, 50 mm by 50 mm, 5 mm thick"]
    says = "plate F-CAP1: 2 a frame, 50 mm by 50 mm, 5 mm thick, on the open ends of F-1, F-3, which are"
    assert any(note.startswith(says) for note in record["assemblies"][0]["notes"])
