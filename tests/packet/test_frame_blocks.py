"""A frame's part of a page: what a fitter reads off it, and lettering that never overlaps, in every unit and paper.

Expected figures are worked by hand from the jobs' own sizes.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import asin, atan, cos, degrees, floor, hypot, pi, sin, tan
from pathlib import Path

import attrs
import pytest
import shapely

import mitertool as mt
from mitertool.base.language import spoken
from mitertool.drawing import A4, LETTER, Drawing, Line, Page, Polygon, Text
from mitertool.frame import rectangle
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.browser.frame_part import frames_part
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.fitter.marked import marked_blocks
from mitertool.packet.pages.fitter.notes import closes
from mitertool.packet.pages.fitter.picture import frame_drawing, picture_notes
from mitertool.packet.pages.fitter.stops import stop_rows
from mitertool.packet.pages.fitter.told import sentences
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.packet.paper.layout import Paper, pages
from mitertool.quantity import Units
from tests.frame.runs import HEAD, frame, table, tube
from tests.packet.jobs import GALLERY, NASTY, head
from tests.packet.text_boxes import cut_short, findings, overlaps

FRAMED = (*(name for name in GALLERY if name != "keel-jig"), *(name for name in NASTY if "[[frame]]" in NASTY[name]))

_FRAME = '[[frame]]\nmark = "{mark}"\nsection = "{section}"\n{more}\n'
_OWN = "".join(
    _FRAME.format(mark=mark, section=section, more=more)
    for mark, section, more in (
        ("RING", "RHS 80x40x3", 'shape = "polygon"\nsides = 30\nside = 300\nmeasured = "outside"\nroot_gap = 2'),
        (
            "BUTTED",
            "SHS 40x40x3",
            'shape = "rectangle"\nwidth = 11000\nheight = 140\nmeasured = "outside"\ncorners = "butt"\n'
            'through = "height"\nroot_gap = 1.5\nquantity = 40\ndrawing = "TH-104/2, sheet 17 of 23, detail H"\n'
            'prep = "prep 30, land 2, backing bar"\nprocess = "deburr, mark with paint"\n'
            'note = "' + "flush at the front, " * 12 + '"',
        ),
        (
            "OPEN",
            "SHS 40x40x3",
            'shape = "polygon"\nclosed = false\npoints = [[0, 0], [0, 800], [600, 800], [900, 400]]\n'
            'measured = "outside"',
        ),
        ("W" * 20, "SHS 40x40x3", 'shape = "rectangle"\nwidth = 900\nheight = 700\nmeasured = "outside"'),
        ("UP", "SHS 20x20x2", 'shape = "infill"\nopening = 30000\nheight = 900\nclear_most = 99'),
    )
)
OF_ALL_KINDS = head("Of all kinds", more='tolerance = "ISO 13920-A"') + _OWN


@pytest.fixture(scope="module")
def of_all_kinds(tmp_path_factory: pytest.TempPathFactory) -> Solution:
    """Frames that are hard on a page, in one job."""
    path = tmp_path_factory.mktemp("kinds") / "job.toml"
    path.write_text(OF_ALL_KINDS, encoding="utf-8")
    return solve(load(path))


def drawn(solution: Solution, paper: tuple[float, float] = A4, units: Units | None = None) -> tuple[Page, ...]:
    """The pages of a job's frames, without head and foot, its lengths in other units where these are given."""
    if units:
        about = attrs.evolve(solution.job.head, units=units)
        solution = attrs.evolve(solution, job=attrs.evolve(solution.job, head=about))
    on = Paper(*paper)
    return pages(list(frame_blocks(solution, on.inner)), on, lambda *_: Drawing())


def said(solution: Solution, **how: object) -> str:
    texts = [box.says for page in drawn(solution, **how) for box in page.drawing.text_boxes()]  # type: ignore[arg-type]
    return re.sub(r"\s+", " ", " | ".join(texts))


PAPERS = pytest.mark.parametrize(("paper", "units"), [(A4, "mm"), (LETTER, "ft-in"), (LETTER, "in"), (A4, "ft-in")])


@PAPERS
@pytest.mark.parametrize("name", FRAMED)
def test_the_lettering(
    name: str, paper: tuple[float, float], units: Units, solution_of: Callable[[str], Solution]
) -> None:
    for page in drawn(solution_of(name), paper, units):
        assert [*findings(page), *cut_short(page.drawing.text_boxes())] == []


SLOPING = (
    '[job]\nname = "sloping"\n[[frame]]\nmark = "SL"\nshape = "sloping"\nsection = "RHS 40x80x3"\nwidth = 1200\n'
    'height = 1100\nright_height = 700\nmeasured = "outside"\n'
    'inside = [{ bars = "rails", section = "SHS 30x30x3", at = [250] }, { bars = "uprights", count = 3 }]\n'
)


@pytest.mark.parametrize("language", ["en", "de"])
@PAPERS
def test_the_lettering_of_marks_and_stops(
    paper: tuple[float, float], units: Units, language: str, tmp_path: Path
) -> None:
    path = tmp_path / "job.toml"
    path.write_text(SLOPING, encoding="utf-8")
    solution = solve(load(path))
    with spoken(language):
        for page in drawn(solution, paper, units):
            assert [*findings(page), *cut_short(page.drawing.text_boxes())] == []


@PAPERS
def test_the_lettering_of_frames_of_all_kinds(paper: tuple[float, float], units: Units, of_all_kinds: Solution) -> None:
    for page in drawn(of_all_kinds, paper, units):
        assert findings(page) == []


def test_the_gate_stands_on_one_page(solution_of: Callable[[str], Solution]) -> None:
    assert len(drawn(solution_of("boathouse-gate"))) == 1
    assert len(drawn(solution_of("boathouse-gate"), LETTER)) == 1


def test_diagonals_as_a_tape_reads_them_and_exactly(solution_of: Callable[[str], Solution]) -> None:
    """1180 x 1840 with a root gap of 1: the tape lies gap / 2 / cos 45 / 2 in from either edge, and reads half mm."""
    back = 1 / 2 / cos(pi / 4) / 2
    exact = hypot(1180 - 2 * back, 1840 - 2 * back)
    assert f"{exact:.2f}" == "2184.89"
    assert "1 - 3 | 2185 | 2184.89 | 2 - 4 | 2185 | 2184.89" in said(solution_of("boathouse-gate"))


def test_a_row_a_corner(solution_of: Callable[[str], Solution]) -> None:
    """The throat of a miter whose two ends are half a degree out: 2 * 80 / cos 45 * tan 0.5 = 1.97, never told less."""
    assert "1 | LEAF-1 to LEAF-2 | 90° | 1 | 2 | 0 | 0 | 2 | LEAF-2 to LEAF-1 | 90° | 1 | 2 | 0 | 1840" in said(
        solution_of("boathouse-gate")
    )


def test_what_their_coordinates_mean_stands_above_the_corners(solution_of: Callable[[str], Solution]) -> None:
    """The gate has a root gap of 1 and its panel none: (0, 1840) is where the outer edges cross, beyond the steel."""
    text = said(solution_of("boathouse-gate"))
    assert "where the outside edges cross, gap included: for tack blocks. | corner | pieces" in text
    assert "where the outside edges cross: for tack blocks. | corner | pieces" in text


def test_stops_lean_90_degrees_at_most(solution_of: Callable[[str], Solution]) -> None:
    """The right rafter of the gable runs up to the left, from (960, 620) to (480, 910): atan(290 / 480) = 31.14."""
    assert f"{degrees(atan(290 / 480)):.2f}" == "31.14"
    assert "GABLE-3, corners 4 to 3 | outside | 960 | 620 | 480 | 910 | 31.14° left" in said(
        solution_of("lantern-house")
    )


def test_the_corners_of_a_frame_of_many_bars_stand_on_one_page() -> None:
    """Seven corners of either leaf: all in one table, and the picture with how its marks are meant and what is read."""
    found = []
    for page in drawn(gate(), LETTER, "ft-in"):
        texts = [box.says for box in page.drawing.text_boxes()]
        found.append((texts.count("corner"), sum(" to LEAF-" in one for one in texts)))
        assert any("Frame LEAF" in one for one in texts) == ("tape reads" in texts)
    assert [one for one in found if one != (0, 0)] == [(1, 7), (1, 7)]


def test_pieces_that_are_one_turned_over_are_told(solution_of: Callable[[str], Solution]) -> None:
    """The gable is its own mirror image: its posts and its rafters, of square tube, are each other's."""
    text = said(solution_of("lantern-house")).replace(" | ", " ")
    assert "One piece, whichever way it lies: GABLE-1 and GABLE-4; GABLE-2 and GABLE-3." in text


def test_ends_that_look_alike_are_told_by_their_corners(solution_of: Callable[[str], Solution]) -> None:
    """Rafters that rise 290 over 480 stand on upright sides: a rafter and a side take half of what is open each.

    The sides have 56.31 at the bottom, which is plain beside 29.43; sides of a ring are alike at both ends.
    """
    rise = degrees(atan(290 / 480))
    low, high = f"{(90 - rise) / 2:.2f}°", f"{rise:.2f}°"
    (told,) = re.findall(r"look alike; from square: ([^.]*(?:\.\d[^.]*)*)\.", said(solution_of("lantern-house")))
    assert told.replace(" | ", " ") == (
        f"GABLE-2 {low} at corner 2, {high} at corner 3; GABLE-3 {high} at corner 3, {low} at corner 4"
    )


def test_hinges_are_told_of_either_leaf() -> None:
    first, second = (list(sentences(hand, gate())) for hand in gate().frames[0].hands)
    assert ("Hinges at the left." in first, "Hinges at the right." in second) == (True, True)
    assert not {"Hinges at the right.", "Hinges at the left."} & {*first} & {*second}


def test_every_sentence_is_one_and_nothing_open_has_no_decimals() -> None:
    """A rectangle of whole sizes with miters of 45 degrees is set as it is: in inches too nothing stands open."""
    frame = rectangle(mt.rect_tube(40, 40, 3), 1000, 800, "outside")
    assert closes(frame, "in") == closes(frame, "mm")
    assert closes(frame, "in").endswith("they leave 0 open")
    assert re.search(r"they leave \d+/\d+\" open$", closes(gate().frames[0].assembly, "ft-in"))
    for hand in gate().frames[0].hands:
        told = list(sentences(hand, gate()))
        assert [one for one in told if not (one[0].isupper() or one[0].isdigit()) or one[-1] != "."] == []


def test_corners_that_the_scale_cannot_hold_want_proving(solution_of: Callable[[str], Solution]) -> None:
    """Class B of ISO 13920: 30' for a leg up to 1000, 20' for one beyond; the scale has half a degree."""
    text = said(solution_of("boathouse-gate"))
    assert "Prove corners to ±0.33° before tacking" in text.replace(" | ", " ")


def test_what_diagonals_may_differ_by(solution_of: Callable[[str], Solution]) -> None:
    """Class B of ISO 13920: 20' at the corners of the leaf, 30' at those of the panel. Racked by so much the diagonals
    are sqrt(w2 + h2 + 2 w h sin) and the same less, the leaf's from the middle of its gap; a tape has half a mm."""
    solution = solution_of("boathouse-gate")
    text, page = said(solution).replace(" | ", " "), "".join(map(str, frames_part(solution)))
    for wide, high, angle, lean in ((1180, 1840, 1 / 3, 0.03), (720, 540, 0.5, 0.07)):
        racked = 2 * wide * high * sin(angle * pi / 180)
        differ = (wide**2 + high**2 + racked) ** 0.5 - (wide**2 + high**2 - racked) ** 0.5
        told = f"Diagonals may differ by {floor(differ * 2) / 2:g} mm; 1 mm is {lean}° a corner."
        assert told in text
        assert told in page
    assert "may differ" not in said(solution_of("lantern-house"))


def test_what_check_lengths_may_be_out_by(tmp_path: Path) -> None:
    """A regular pentagon of 800, 30' at each corner. Both lengths from corner 1 out to either side, corner 3 is worst:
    its 36 degrees follow 1-3 by half of 1 / (s cos 54), its 72 follow 1-4 by 1 / (s sin 72) and 1-3 by cos 36 of it."""
    rate = (1 / (2 * cos(54 * pi / 180)) + (1 + cos(36 * pi / 180)) / sin(72 * pi / 180)) / 800
    most = pi / 180 / 2 / rate
    path = tmp_path / "job.toml"
    path.write_text(
        '[job]\nname = "five"\ntolerance = "ISO 13920-B"\n[[frame]]\nmark = "FIVE"\nshape = "polygon"\n'
        'section = "SHS 40x40x3"\nsides = 5\nside = 800\nmeasured = "outside"\n'
    )
    text = said(solve(load(path))).replace(" | ", " ")
    assert f"Each check length may be out by {floor(most * 2) / 2:g} mm; 1 mm is up to" in text


def test_which_side_of_an_unequal_tube_is_seen(solution_of: Callable[[str], Solution]) -> None:
    """As the jobs say: a leaf of 80 by 40 flat in the gate, rails of 60 and posts of 40 by 40 in its panel; a bottom of
    60 by 40 in the gable; and a base of 60 by 40 on edge."""
    for name, told, never in (
        ("boathouse-gate", ("LEAF-1, LEAF-2 80 wide, 40 deep.", "PANEL-1 60 wide, 40 deep."), "PANEL-2 40 wide"),
        ("lantern-house", ("GABLE-5 60 wide, 40 deep.", "BASE-1 40 wide, 60 deep."), "RING-1 40 wide"),
    ):
        solution = solution_of(name)
        text, page = said(solution).replace(" | ", " "), "".join(map(str, frames_part(solution)))
        for one in told:
            assert f"In the picture {one}" in text
            assert f"In the picture {one}" in page
        assert never not in text
        with spoken("de"):
            assert told[0].replace("wide", "breit").replace("deep", "tief") in said(solution).replace(" | ", " ")


def test_which_side_of_unlike_members_is_flush_is_left_to_the_fitter(solution_of: Callable[[str], Solution]) -> None:
    """BASE-1 is 60 high and BASE-2 40: 10 under it brings the middles flush, 20 the tops."""
    text = said(solution_of("lantern-house")).replace(" | ", " ")
    assert "Flush at the bottom, the middle or the top on a bench is the fitter's choice: BASE-1 60 high;" in text
    assert "under BASE-2, 40 high, put nothing for the bottom, 10 for the middle, 20 for the top." in text


def test_a_size_short_of_its_corners_is_that_of_steel(solution_of: Callable[[str], Solution]) -> None:
    """980 inside and two tubes of 40 are 1060 across flats, 1060 / cos 30 across the corners. A gap of 1 takes half a
    mm off either side of a point, which lies 0.5 / tan 60 inside of it; the flats stay where they are."""
    text = said(solution_of("lantern-house"))
    assert f"steel {1060 / cos(pi / 6) - 2 * 0.5 / tan(pi / 3):.1f} |" in text
    assert "steel 1060" not in text
    assert "steel" not in said(solution_of("boathouse-gate"))


def test_too_much_is_told_from_square_where_that_is_one_way(solution_of: Callable[[str], Solution]) -> None:
    """Each end of the gate's frames is mitered to a corner that points out; the base has square ends that butt."""
    gate, base = (said(solution_of(name)).replace(" | ", " ") for name in ("boathouse-gate", "lantern-house"))
    assert gate.count("too far from square the last corner gapes") == 2
    assert "short inside" not in gate
    assert "With every end 0.25° out, short inside, the last corner gapes" in base


def test_a_slanted_stop_rises_to_its_side(solution_of: Callable[[str], Solution]) -> None:
    """The hexagon's sides lean 60 degrees: from its right corner (918, 530) up to the left, from 612 to there right."""
    rows = [row for one in solution_of("lantern-house").frames[:1] for row in stop_rows(one.assembly, one.out, "mm")]
    ways = [row[6] for row in rows if row[1] == "outside"]
    assert sorted(ways) == ["0°", "0°", "60° left", "60° left", "60° right", "60° right"]
    for row in rows:
        rise = (float(row[4]) - float(row[2])) * (float(row[5]) - float(row[3]))
        assert row[6].endswith("right" if rise > 0 else "left" if rise < 0 else "0°")


def test_what_the_last_corner_would_do_is_no_forecast(solution_of: Callable[[str], Solution]) -> None:
    """What half a degree at every end would do to leaf and panel is told as what would be, not as what is."""
    text = said(solution_of("boathouse-gate")).replace(" | ", " ")
    found = re.findall(r"With every end 0.5\u00b0 too far from square the last corner gapes ([0-9.]+), too near", text)
    assert len(found) == 2
    assert not re.search(r"the last corner is|all 0.5", text)


def test_a_step_of_inner_edges_is_told_as_one(solution_of: Callable[[str], Solution]) -> None:
    """Rails 60 wide and posts 40: the seam leans atan(40 / 60) = 33.69 from square of a rail, and 56.31 of a post. To
    whole half degrees they are 33.5 and 56.5, still 90, but the rail's face is 60 / cos 33.5 long, the post's 40 / cos
    56.5. Without a saw a quarter: 33.75 and 56.25."""
    step = abs(60 / cos(33.5 * pi / 180) - 40 / cos(56.5 * pi / 180))
    text = said(solution_of("boathouse-gate")).replace(" | ", " ")
    assert f"inner edges step {step:.2f}, no gap." in text
    assert "leave 0.52 open" not in text
    plain = abs(60 / cos(33.75 * pi / 180) - 40 / cos(56.25 * pi / 180))
    frame = rectangle([mt.rect_tube(60, 40, 3), mt.rect_tube(40, 40, 3)], 720, 540, "outside")
    told = f"to the nearest 0.25\u00b0, inner edges step {plain:.2f}, no gap"
    assert closes(frame, "mm", 0.25).endswith(told)


def test_which_piece_runs_through_is_told_at_its_corner(solution_of: Callable[[str], Solution]) -> None:
    """The base is 1240 by 860 outside and butted: what is 1240 long runs through."""
    solution = solution_of("lantern-house")
    long = {one.mark for one in solution.pieces if abs(one.piece.long_point - 1240) < 1e-6}
    assert long == {"BASE-1"}
    text = said(solution).replace(" | ", " ")
    assert len(re.findall("BASE-1 through, BASE-2 butts", text)) == 4
    assert "BASE-1 to BASE-2" not in text
    with spoken("de"):
        assert said(solution).replace(" | ", " ").count("BASE-1 durch, BASE-2 st\u00f6\u00dft an") == 4


def test_marks_of_no_frame_are_told_behind_the_frames(solution_of: Callable[[str], Solution]) -> None:
    """Beside its frames the gate has two stays, two opposite ones, which are the same, and four straps."""
    solution = solution_of("boathouse-gate")
    *_, last = drawn(solution)
    assert last.drawing.text_boxes()[-1].says == "In no frame drawn here: 4 x STAY, 4 x STRAP."
    assert "In no frame" not in said(solution_of("lantern-house"))
    assert "In no frame drawn here: 4 x STAY, 4 x STRAP." in "".join(map(str, frames_part(solution)))


def test_what_the_job_says_of_a_frame(of_all_kinds: Solution) -> None:
    text = said(of_all_kinds)
    for words in ("Drawing TH-104/2", "Weld preparation: prep 30, land 2", "After the cut: deburr, mark", "40 to make"):
        assert words in text


def test_uprights_have_a_table_from_the_first_post(of_all_kinds: Solution) -> None:
    """30000 less n x 20 in gaps of at most 99: n = 252, gaps (30000 - 5040) / 253 = 98.656; the second at 217.3."""
    gap = (30000 - 252 * 20) / 253
    text = said(of_all_kinds)
    assert f"1 | {gap:.1f} | 2 | {2 * gap + 20:.1f} | 3 | {3 * gap + 40:.0f}" in text
    assert "mark out" not in text
    assert "UP-1: the near side of each, along the rail from the first post." in text
    page = "".join(map(str, frames_part(of_all_kinds)))
    assert f"<td>1</td><td>{gap:.1f}</td>" in page
    assert "UP-1: the near side of each" in page


def test_an_open_frame_has_its_free_ends(of_all_kinds: Solution) -> None:
    """From (0, 0) to (900, 400): hypot = 984.89."""
    text = said(of_all_kinds)
    assert "1 - 4 | 985 | 984.89" in text
    assert "4 | OPEN-3 | 900 | 400" in text


def test_a_frame_that_a_page_holds_is_never_parted(of_all_kinds: Solution) -> None:
    for page in drawn(of_all_kinds):
        texts = [box.says for box in page.drawing.text_boxes()]
        assert ("Frame OPEN: polygon" in texts) == ("OPEN-3" in texts)


def test_the_head_of_a_page_past_the_ninth_in_another_language() -> None:
    """A double gate has more than nine pages; in German their number is wider, and stands clear of the lengths."""
    with spoken("de"):
        last = cut_sheet(gate())[-1]
        assert any(re.fullmatch(r"Seite \d\d von \d\d", box.says) for box in last.drawing.text_boxes())
        assert [*overlaps(list(last.drawing.text_boxes()))] == []


def gate() -> Solution:
    """A gate with 45 bars inside each leaf, most of them of a mark of their own."""
    return solve(load(Path(__file__).parents[1] / "job" / "orchard_gate.toml"))


def test_marks_among_many_bars_name_the_piece_at_their_right() -> None:
    """From the middle of an upright mark straight to the right the first piece met is one of that mark."""
    for hand in gate().frames[0].hands:
        picture = frame_drawing(hand.assembly, "mm", 162, 110, hand.out)
        shapes = [part for part in picture.entities if isinstance(part, Polygon)]
        assert len(shapes) == len(hand.assembly.every)
        upright = [part for part in picture.entities if isinstance(part, Text) and part.turn]
        assert len(upright) > 24
        for text in upright:
            ahead = [
                (min(x for x, _ in one.points) - text.at[0], mark)
                for one, mark in zip(shapes, hand.assembly.every, strict=True)
                if min(y for _, y in one.points) < text.at[1] < max(y for _, y in one.points)
            ]
            assert min(one for one in ahead if one[0] > 0)[1] == text.says


def test_no_bar_and_no_corner_is_without_a_name() -> None:
    """Each of the 33 marks stands in the picture, whole, or short at the left of a bar of it, or is told below it; and
    seven corners of a leaf, nine of an arch of six chords, have a number each."""
    for hand in gate().frames[0].hands:
        picture = frame_drawing(hand.assembly, "mm", 162, 110, hand.out)
        texts = [part for part in picture.entities if isinstance(part, Text)]
        said = [text.says for text in texts if not text.bold]
        *_, last = picture_notes(picture, hand.assembly)
        for mark, outline in zip(hand.assembly.every, picture.entities, strict=False):
            short = mark.removeprefix("LEAF-")
            if mark not in said and f"{mark}," not in last and f"{mark}:" not in last:
                (text,) = (one for one in texts if one.says == short and not one.bold)
                assert isinstance(outline, Polygon)
                assert 0 < min(x for x, _ in outline.points) - text.at[0] < 4
        assert last.count("LEAF") <= 3
        assert sorted(text.says for text in texts if text.bold) == [str(i) for i in range(1, 8)]


@pytest.mark.parametrize("name", ["lantern-house", "hatch-frame", "boathouse-gate", "loft-window", "slip-trolley"])
def test_numbers_stand_just_outside_their_corners(name: str, solution_of: Callable[[str], Solution]) -> None:
    """Every number lies outside the frame, its middle 4 to 6.5 mm from its corner; every piece around has its mark."""
    for order in solution_of(name).frames:
        if order.out is None:
            continue
        picture = frame_drawing(order.assembly, "mm", 56, 31, order.out)
        points = [point for outline in order.assembly.outlines for point in outline]
        low = complex(min(point.real for point in points), min(point.imag for point in points))
        wide, high = (max(point.real for point in points) - low.real, max(point.imag for point in points) - low.imag)
        k = min(56 / wide, 31 / high)
        at = {str(one.number): (order.out.origin + one.over - low) * k for one in order.corners}
        ring = shapely.Polygon([(point.real, point.imag) for point in at.values()])
        texts = [part for part in picture.entities if isinstance(part, Text)]
        for text in (one for one in texts if one.bold):
            assert 3.9 < abs(complex(*text.at) - at[text.says]) < 6.6
            assert not ring.contains(shapely.Point(text.at))
        assert {*order.assembly.order} <= {one.says for one in texts}


def test_a_picture_without_any_marks_says_where_they_are() -> None:
    for hand in gate().frames[0].hands:
        picture = frame_drawing(hand.assembly, "mm", 162, 110, hand.out, marked=False)
        assert list(picture_notes(picture, hand.assembly)) == [
            "No room for marks in the picture: the tables below have them."
        ]


def test_every_corner_of_an_arch_is_numbered(tmp_path: Path) -> None:
    """Six chords, two posts and a tie."""
    path = tmp_path / "job.toml"
    path.write_text(ARCH, encoding="utf-8")
    (order,) = solve(load(path)).frames
    picture = frame_drawing(order.assembly, "mm", 76, 72, order.out)
    numbers = [part.says for part in picture.entities if isinstance(part, Text) and part.bold]
    assert sorted(numbers) == [str(i) for i in range(1, 10)]


ARCH = (
    '[job]\nname = "arch"\n'
    '[[frame]]\nmark = "A"\nshape = "arch"\nsection = "RHS 40x80x3"\nwidth = 1800\nheight = 2000\nrise = 400\n'
    'chords = 6\nmeasured = "outside"\n'
)


def test_a_brace_and_a_rail_among_bars_are_led_to_their_marks() -> None:
    """The line beside each mark ends within a piece of that mark, and it is level."""
    (drawn, _) = gate().frames[0].hands
    picture = frame_drawing(drawn.assembly, "mm", 162, 110, drawn.out)
    shapes = [shapely.Polygon(part.points) for part in picture.entities if isinstance(part, Polygon)]
    lines = [part for part in picture.entities if isinstance(part, Line)]
    texts = [part for part in picture.entities if isinstance(part, Text)]
    told = []
    for line in lines:
        assert line.a[1] == line.b[1]
        (mark,) = (text.says for text in texts if abs(text.at[1] - line.a[1]) < 1e-9 and text.says.startswith("LEAF"))
        ends = [
            name
            for shape, name in zip(shapes, drawn.assembly.every, strict=True)
            if shape.contains(shapely.Point(line.b))
        ]
        assert ends == [mark]
        told.append(mark)
    assert told == ["LEAF-7", "LEAF-8"]


LADDER = (
    '[[frame]]\nmark = "L"\nshape = "ladder"\nsection = "SHS 50x50x3"\nwidth = 450\nheight = 2400\npitch = 280\n'
    "cap = 4\n"
)


def test_plates_on_open_ends_are_drawn(tmp_path: Path) -> None:
    """The height of a ladder goes over its plates, 4 thick at either end of either stile, 50 wide as these are."""
    path = tmp_path / "job.toml"
    path.write_text(head("Ladder") + LADDER, encoding="utf-8")
    (order,) = solve(load(path)).frames
    across = sorted(
        (min(p.imag for p in one), max(p.imag for p in one), max(p.real for p in one) - min(p.real for p in one))
        for one in order.assembly.plates
    )
    assert across == [pytest.approx(one) for one in [(0, 4, 50)] * 2 + [(2396, 2400, 50)] * 2]
    picture = frame_drawing(order.assembly, "mm")
    assert sum(isinstance(part, Polygon) and part.fill == 0.5 for part in picture.entities) == 4
    sizes = [text.says for text in picture.primitives() if isinstance(text, Text)]
    assert {"450", "2400"} <= {*sizes}


MIRRORED = (
    '[[section]]\nname = "T"\nshape = "rect-tube"\nwidth = 50\nheight = 50\nwall = 3\n'
    '[[frame]]\nmark = "F"\nshape = "sloping"\nsection = "T"\nopening_width = 2000\nopening_height = 900\nleaves = 2\n'
    'right_height = 700\nmeasured = "outside"\n'
    'inside = [{ bars = "uprights", at = [300] }, { bars = "rails", at = [200], bays = [1] }]\n'
)


def test_bars_are_marked_from_the_left_or_lower_end_in_either_leaf(tmp_path: Path) -> None:
    """A rail whose middle lies 200 up, 50 wide, lands 175 up the upright, at its left or, mirrored, its right."""
    path = tmp_path / "job.toml"
    path.write_text(head("Mirrored") + MIRRORED, encoding="utf-8")
    solved = solve(load(path))
    rows = []
    for hand in solved.frames[0].hands:
        blocks = marked_blocks(hand.assembly, hand.out, "mm", 186.0)
        rows.append([[part.says for part in block.drawing.entities if isinstance(part, Text)] for block in blocks])
    for found, side in zip(rows, ("left", "right"), strict=True):
        (row,) = (row for row in found if any(f"{side} side" in word for word in row))
        assert [word for word in row if word][2:] == ["175"]


@pytest.mark.parametrize("units", ["mm", "in/16", "ft-in/32"])
def test_marks_and_their_figures_are_never_cut_short(tmp_path: Path, units: Units) -> None:
    """Long marks and fractions take fewer bars in a row."""
    path = tmp_path / "job.toml"
    path.write_text(head("Long marks") + MIRRORED.replace('mark = "F"', 'mark = "NORTH-GABLE-WING"'), encoding="utf-8")
    for hand in solve(load(path)).frames[0].hands:
        blocks = list(marked_blocks(hand.assembly, hand.out, units, 186.0))
        texts = [part for block in blocks for part in block.drawing.entities if isinstance(part, Text)]
        assert not [part.says for part in texts if "\u2026" in part.says]
        assert {part.height for part in texts if part.says.endswith(("mm", '"')) or part.says[:1].isdigit()} == {3.0}


def test_openings_and_angles_in_feet_and_inches_are_fractions(tmp_path: Path) -> None:
    """An arch of six chords over 72 by 16 inches: half its angle t has sin t = 36 / 48.5, a chord is 97 sin(t / 6) =
    13.5 long, so 12 inches of tape fit along each. Across a bend they read 24 cos(t / 6), here to a thirty-second."""
    text = ARCH.replace("1800", "72").replace("2000", "78").replace("400", "16").replace("[[", 'units = "ft-in"\n[[', 1)
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    told = said(solve(load(path)))
    parts = round(24 * cos(asin(36 / 48.5) / 6) * 32)
    assert parts == 761
    assert f"corner 3, 4, 5, 6, 7: 1'-11 {parts - 23 * 32}/32\"" in told
    opened = re.findall(r"A-\d \| [\d.]+° \| 0\" \| ([^|]*)\" \|", told)
    assert len(opened) == 9
    assert all(re.fullmatch(r"\d+/(\d+)", one) for one in opened)


def test_without_a_saw_neither_its_scale_nor_its_stop_is_named(tmp_path: Path) -> None:
    """Ends of 45 and of other miters are cut from blanks, to a tolerance that 0.25 of a degree uses up."""
    sizes = {"width": 1620, "height": 1830, "right_height": 1500, "measured": "outside"}
    bar = "[nest]\ntrim = 10\nkerf = 1.3\n" + table("stock", section="T", length=6000)
    head = HEAD.replace("[job]", '[job]\ntolerance = "ISO 13920-A"')
    (tmp_path / "job.toml").write_text("\n".join([head, tube("T", 60), bar, frame("sloping", **sizes)]))
    texts = (box.says for page in cut_sheet(solve(load(tmp_path / "job.toml"))) for box in page.drawing.text_boxes())
    says = " ".join(texts)
    assert "Clamp each blank with its finished end behind, and cut its other end at the mark." in says
    assert "angles set to the nearest 0.25° cannot hold it." in says
    assert "the tolerance asks for it: F-" in says
    assert not re.search(r"scale of the saw|the scale cannot|end behind at the stop", says)
    assert "recut what is out" in says
