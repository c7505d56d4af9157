"""Second leaves and leaves of two widths: the image laid out by hand, and what is made of which hand."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import pytest
from hypothesis import HealthCheck, given, settings
from pypdf import PdfReader

from mitertool.frame.inside.landings import landings
from mitertool.frame.mirrored import image_of, is_own_image
from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from tests.frame.random_shapes import any_outline
from tests.frame.runs import HEAD, by_mark, checked, frame, refusal, tube
from tests.often import times

T, P = tube("T", 50), tube("P", 20)
OPENING = {"opening_width": 3000, "opening_height": 2000, "hinge_gap": 20, "meeting_gap": 10, "measured": "outside"}
BRACED = 'inside = [{ bars = "brace" }, { bars = "uprights", section = "P", count = 3 }]\n'


def solution(folder: Path, *tables: str) -> Any:
    path = folder / "job.toml"
    path.write_text("\n".join([HEAD, T, P, *tables]), encoding="utf-8")
    return solve(load(path))


def flipped(points: tuple[complex, ...]) -> list[complex]:
    """The mirror image of some corners, in an order of their places."""
    return by_place([-point.conjugate() for point in points])


def by_place(points: list[complex]) -> list[complex]:
    return sorted(points, key=lambda p: (round(p.real, 4), round(p.imag, 4)))


@settings(
    deadline=None,
    max_examples=times(4),
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
@given(any_outline())
def test_every_piece_of_the_image_lies_where_its_own_does_mirrored(tmp_path: Path, text: str) -> None:
    """x for -x of every corner, and the landings on the same members as far from the other end of their side."""
    (order,) = solution(tmp_path, text).frames
    assembly, image = order.assembly, image_of(order.assembly)
    count, every = len(assembly.order), len(assembly.every)
    other = [*range(count - 1, -1, -1), *range(count, every)]
    for i, j in enumerate(other):
        assert by_place(list(image.outlines[j])) == pytest.approx(flipped(assembly.outlines[i]), abs=1e-6)
    there = {(one.host, round(one.near, 3)) for one in landings(image)}
    for one in landings(assembly):
        a, b, c, d = assembly.edges[one.host]
        whole = abs(d - a) if one.side == "fixed" else abs(c - b)
        assert any(host == other[one.host] and abs(near - (whole - one.far)) < 2e-3 for host, near in there)


def test_a_leaf_that_is_its_own_image_is_one_frame(tmp_path: Path) -> None:
    """A rectangle with uprights is, one with a brace is not."""
    plain = frame("rectangle", **OPENING, leaves=2)
    (order,) = solution(tmp_path, plain + BRACED.replace('{ bars = "brace" }, ', "")).frames
    assert is_own_image(order.assembly)
    assert [hand.quantity for hand in order.hands] == [2]
    (order,) = solution(tmp_path, plain + BRACED).frames
    assert [(hand.assembly.mark, hand.quantity) for hand in order.hands] == [("F", 1), ("F-OH", 1)]


def test_both_leaves_have_a_jig_and_a_picture(tmp_path: Path) -> None:
    """The brace rises to the right in the one and to the left in the other."""
    files = packet_files(solution(tmp_path, frame("rectangle", **OPENING, leaves=2) + BRACED), Options())
    ways = {}
    for name in ("F", "F-OH"):
        content = files[f"jigs/{name}.dxf"].decode("utf-8")
        lines = ezdxf.filemanagement.read(io.StringIO(content, newline=None)).modelspace().query("LINE")
        found = (line.dxf.end - line.dxf.start for line in lines if line.dxf.layer == "outline")
        ways[name] = {(way.x > 0) == (way.y > 0) for way in found if min(abs(way.x), abs(way.y)) > 100}
    assert ways == {"F": {True}, "F-OH": {False}}
    sheet = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(files["cut-sheet.pdf"])).pages)
    assert "Frame F-OH: rectangle, mirror image of F" in sheet


def test_two_leaves_of_two_widths(tmp_path: Path) -> None:
    """3000 - 40 - 10 = 2950 in all: one is to be 1000 wide, so the other is 1950, hung on the right."""
    one = frame("sloping", **OPENING, right_height=1500, leaves=2, leaf_width=1000)
    two = frame("sloping", **OPENING, right_height=1500, leaves=2, other_leaf=1000, hinged="right")
    record = checked(tmp_path, T, one, two.replace('mark = "F"', 'mark = "G"'))
    first, second = record["assemblies"]
    says = "less twice 20 mm at the hinges and 10 mm between them"
    assert first["notes"][0] == f"this leaf 1000 mm wide, the other 1950 mm: opening 3000 mm {says}"
    assert second["notes"][0] == f"this leaf 1950 mm wide, the other 1000 mm: opening 3000 mm {says}"
    assert (first["quantity"], second["quantity"]) == (1, 1)
    pieces = by_mark(record)
    assert {pieces[mark]["long_point_mm"] for mark in first["order"]} >= {1000, 2000}
    assert {pieces[mark]["long_point_mm"] for mark in second["order"]} >= {1950, 2000}
    assert all((pieces[mark]["quantity"], pieces[mark]["opposite"]) == (1, 0) for mark in first["order"])
    assert all((pieces[mark]["quantity"], pieces[mark]["opposite"]) == (0, 1) for mark in second["order"])


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"leaf_width": 900, "meeting_gap": None}, "leaf_width: found '900 mm'; only where leaves = 2"),
        ({"leaf_width": 900, "other_leaf": 900, "leaves": 2}, "leaf_width"),
        ({"leaf_width": 2950, "leaves": 2}, "opening_width: found 'a leaf of 0 mm'"),
        ({"hinged": "right", "leaves": 2}, "hinged: found 'right'; only for one leaf"),
        ({"hinged": "below", "leaves": 2}, "hinged: found 'below'"),
    ],
    ids=str,
)
def test_what_is_no_leaf_of_two(tmp_path: Path, keys: dict[str, object], says: str) -> None:
    assert says in refusal(tmp_path, T, frame("rectangle", **{**OPENING, **keys}))


def test_a_leaf_hung_on_the_right_alone_keeps_its_mark(tmp_path: Path) -> None:
    """Its higher post, at the hinges, is then at the right: corner 3, 1000 to the right and 2000 up."""
    one = frame("sloping", **{**OPENING, "meeting_gap": None, "opening_width": 1020}, right_height=1500, hinged="right")
    (order,) = solution(tmp_path, one).frames
    (hand,) = order.hands
    assert (hand.assembly.mark, hand.quantity, hand.image_of) == ("F", 1, "")
    assert [corner.at for corner in hand.corners] == pytest.approx([0, 1500j, 1000 + 2000j, 1000])


def test_its_notes_name_its_own_pieces(tmp_path: Path) -> None:
    """Each member butts at one end. Of tube all serve both leaves, turned over, but the post that has the hinge."""
    leaf = {**OPENING, "leaves": 2, "right_height": 1700, "corners": "butt", "cope": 10}
    hinge = 'holes = [{ corners = [1, 2], at = 200, side = "outside" }]\n'
    (order,) = solution(tmp_path, frame("sloping", **leaf) + hinge).frames
    told = [[note.in_units("mm") for note in hand.assembly.notes if note.code == "note.cope"] for hand in order.hands]
    says = "butted ends of {} reach 10 mm past the face that they meet: cope or notch them that deep"
    assert told == [[says.format("F-2, F-3, F-4, F-1")], [says.format("F-2, F-3, F-4-OH, F-1")]]
