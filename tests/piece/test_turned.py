"""A piece whose right end is turned against its left one, by degrees or by an arc of its skin."""

from __future__ import annotations

import json
from itertools import pairwise
from math import acos, degrees, hypot, pi, sqrt, tan
from pathlib import Path

import pytest

import mitertool as mt
from mitertool import job as jobs
from mitertool.cli.main import run
from mitertool.drawing.entities import Text
from mitertool.frame import rail
from mitertool.job import solve
from mitertool.packet.pages.labels import label_pages
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.frame.runs import command

ENDS = ["piece", "CHS 42.4x3.2", "--length", "900", "--at", "centerline", "--left", "16", "--right", "40"]


def test_a_cut_turned_a_quarter_is_a_bevel() -> None:
    """Clockwise from the left end goes from the moving side to the top: y to z."""
    assert mt.Cut(30).turned(90).bevel == pytest.approx(30, abs=1e-12)
    assert mt.Cut(30).turned(90).miter == pytest.approx(0, abs=1e-12)
    assert mt.Cut(30).turned(-180).miter == pytest.approx(-30, abs=1e-12)


def test_a_turned_cut_leans_as_before() -> None:
    """tan 40 split by 45 degrees: p = q = tan 40 / sqrt 2."""
    cut = mt.Cut(40).turned(45)
    assert (cut.p, cut.q) == pytest.approx((tan(2 * pi / 9) / sqrt(2),) * 2, abs=1e-12)


def test_by_degrees_and_by_the_arc_of_the_skin() -> None:
    """On a tube of 42.4 a third round is an arc of pi 42.4 / 3."""
    by_degrees = json.loads(command(*ENDS, "--turned", "120", "--json")[1])
    by_arc = json.loads(command(*ENDS, "--turned-arc", f"{pi * 42.4 / 3}", "--json")[1])
    assert by_degrees["turn_deg"] == pytest.approx(120, abs=1e-9)
    assert by_arc["turn_deg"] == pytest.approx(120, abs=1e-9)
    assert by_degrees["right"]["bevel_deg"] == pytest.approx(by_arc["right"]["bevel_deg"], abs=1e-9)


def test_a_member_of_a_rail_is_such_a_piece(tmp_path: Path) -> None:
    """Its swings and the roll between them make the same piece: the spatial angles are 32.0054 and 81.4 or so by the
    scalar product of its directions, each halved."""
    nodes = [(0.0, 0.0, 0.0), (1200.0, 0.0, 0.0), (2800.0, 0.0, 1000.0), (3100.0, 900.0, 1000.0)]
    made = rail(nodes, mt.section("CHS 42.4x3.2"))
    member, turn = made.pieces[1].piece, made.turns[1].degrees
    a, b, c = ([q - p for p, q in zip(one, other, strict=True)] for one, other in pairwise(nodes))

    def half(u: list[float], v: list[float]) -> float:
        return degrees(acos(sum(x * y for x, y in zip(u, v, strict=True)) / hypot(*u) / hypot(*v))) / 2

    (tmp_path / "job.toml").write_text(
        f'[job]\nname = "R"\nunits = "mm"\n[[piece]]\nmark = "M"\nsection = "CHS 42.4x3.2"\nat = "centerline"\n'
        f"length = {member.centerline!r}\nleft = {half(a, b)!r}\nright = {half(b, c)!r}\nturned = {turn!r}\n"
    )
    piece = jobs.load(tmp_path / "job.toml").pieces[0].piece
    assert piece.turn == pytest.approx(turn, abs=1e-9)
    assert piece.long_point == pytest.approx(member.long_point, abs=1e-9)
    assert piece.volume == pytest.approx(member.volume, rel=1e-12)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (["--turned", "20", "--turned-arc", "5"], "--turned-arc: found '5'"),
        (["--right", "-40", "--turned", "20"], "turned: found '2 cuts'"),
    ],
)
def test_what_is_not_turned(more: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*ENDS, *more]) == 2
    assert says in capsys.readouterr().err


def test_an_arc_needs_a_round_section(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["piece", "SHS 50x50x3", "--length", "900", "--right", "30", "--turned-arc", "5"]) == 2
    assert "an arc is measured on the skin of a round section" in capsys.readouterr().err


def test_a_piece_tells_its_turn() -> None:
    """A third round of 42.4 is 44.4 of its skin."""
    said = command(*ENDS, "--turned", "-120")[1]
    assert "lies 120° counter-clockwise from the left one's, seen from the left, 44.4 on the skin" in said
    assert "rolled half a turn and 120° past that the same way" in said
    for turned in ("0", "180"):
        assert "on the skin" not in command(*ENDS, "--turned", turned)[1]


def test_a_label_tells_it_too(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "R"\nunits = "mm"\n[[piece]]\nmark = "M"\nsection = "CHS 42.4x3.2"\n'
        "length = 900\nleft = 16\nright = 40\nturned = 120\nquantity = 1\nopposite = 1\n"
        '[nest]\nkerf = 2\n[[stock]]\nsection = "CHS 42.4x3.2"\nlength = 3000\n'
    )
    (page,) = label_pages(solve(jobs.load(tmp_path / "job.toml")))
    said = [one.says for one in page.drawing.entities if isinstance(one, Text)]
    assert [text for text in said if text.startswith("long point")] == [
        "long point 900, R 120° clockwise",
        "long point 900, R 120° counter-cw",
    ]


def test_the_first_piece_tells_tip_to_tip_where_its_long_point_is_no_tip(tmp_path: Path) -> None:
    """RHS 80x40x3, corners of 6, left 45 across, right 30 up: from tip to tip it is longer than any one line of steel,
    with s the line at y = z = 0 the tips are s + reach of the two ends, each by its own
    corner: 80 tan 45 at 74 and the rounding, 40 tan 30 at 34 and the rounding."""
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "R"\nunits = "mm"\n[[piece]]\nmark = "M"\nsection = "RHS 80x40x3"\nlength = 600\n'
        'left = 45\nright = 30\nturned = 90\n[nest]\nkerf = 2\n[[stock]]\nsection = "RHS 80x40x3"\nlength = 3000\n'
    )
    solved = solve(jobs.load(tmp_path / "job.toml"))
    paper = [box.says for page in cut_sheet(solved) for box in page.drawing.text_boxes()]
    p, q = 1.0, tan(pi / 6)
    # furthest of p y over the section and of q z over it, against the furthest of both at once; wide 40, high 80
    furthest = [slope * (size - 6) + 6 * slope for slope, size in ((p, 40), (q, 80))]
    both = p * 34 + q * 74 + 6 * hypot(p, q)
    assert any(text == f"first: long point 600, tip to tip {600 - both + sum(furthest):.1f}" for text in paper)
    (page,) = label_pages(solved)
    assert any("R bevel 30" in one.says for one in page.drawing.entities if isinstance(one, Text))
