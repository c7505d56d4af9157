"""Random small jobs on random saws: what a card says of an end is what the plan sets, and makes the hand that is drawn.

The hand is found from the reading alone, with the saw file's own keys: the reading gives the swing, swing and tilt
give the plane in the rolled bar, the roll turned back and the bar turned back end for end give the plane as drawn.
By the definition of a cut the right end is x = p*y + q*z and the left end x = -p*y - q*z; with the fixed jaw on the
right the bar runs the other way and every slope changes its sign.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin, tan
from pathlib import Path
from random import Random

import pytest

from mitertool.job import Solution, load, solve
from mitertool.job.solved import EndWay
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.sheet.detail_blocks import uses_words
from mitertool.saw import Saw
from tests.job.test_solve import HEAD, piece, solved, stock
from tests.often import times

SECTIONS = ("RHS 80x40x3", "SHS 50x50x3", "FLAT 60x10", "UPN 80", "L 60x40x5", "CHS 60.3x3.2")
SEEDS = range(times(12))


def saw_text(random: Random) -> str:
    """A saw of either jaw and kind, its scale counting either way, one-way or two-way, tilting or not, fed or not."""
    square = random.choice((0, 90))
    two_sided = square == 0 and random.random() < 0.3
    most = random.choice(((60, 60), (60, 60), (60, 0), (0, 60)))
    tilt = f"[tilt]\nlowest = {random.choice((0, -45))}\nhighest = 45\n" if random.random() < 0.3 else ""
    fed = f"[feed]\nstroke = 500\ncounts_kerf = {random.choice(('true', 'false'))}\n" if random.random() < 0.5 else ""
    post = (
        f'[[obstacle]]\nname = "post"\nside = "{random.choice(("feed", "discharge"))}"\n'
        f'stands = "{random.choice(("moving-jaw", "fixed-jaw", "across"))}"\ndepth = 80\nedge = 60\n'
    )
    return (
        f'[saw]\nname = "s"\nkind = "{random.choice(("hinged", "column"))}"\nkerf = {random.choice((1.3, 2.0))}\n'
        f'[scale]\nsquare = {square}\npositive = "{random.choice(("feed-side", "discharge-side"))}"\n'
        f"two_sided = {str(two_sided).lower()}\nfeed_side_most = {most[0]}\ndischarge_side_most = {most[1]}\n"
        f'[vise]\nfixed_jaw = "{random.choice(("left", "right"))}"\n{tilt}[bed]\nswing_axis = 20\n{fed}'
        f"{post if random.random() < 0.3 else ''}"
    )


def an_end(random: Random) -> str:
    miter, bevel = random.choice((0, 0, 22.5, 45, -22.5, -45, 30)), random.choice((0, 0, 0, 20, -20))
    return f"{{ miter = {miter}, bevel = {bevel} }}"


def job_text(random: Random) -> str:
    chosen = random.sample(SECTIONS, random.choice((1, 2)))
    pieces = (
        piece(
            f"P{number}",
            random.choice(chosen),
            f"left = {an_end(random)}\nright = {an_end(random)}\nquantity = {random.choice((1, 2, 4))}\n"
            f"opposite = {random.choice((0, 0, 2))}",
            random.choice((300, 450, 700)),
        )
        for number in range(random.choice((1, 2, 3)))
    )
    return HEAD + 'saw = "saw.toml"\n' + "".join(pieces) + "".join(stock(section) for section in chosen)


def made(folder: Path, job: str, saw: str) -> Solution:
    (folder / "saw.toml").write_text(saw)
    (folder / "job.toml").write_text(job)
    return solve(load(folder / "job.toml"), effort=0.02)


@pytest.fixture(params=SEEDS)
def solution(request: pytest.FixtureRequest, tmp_path: Path) -> Solution:
    random = Random(request.param)
    saw = saw_text(random)
    return made(tmp_path, job_text(random), saw)


def as_drawn(saw: Saw, way: EndWay) -> tuple[float, float]:
    """The slopes on the bar as drawn that the reading, the tilt and the roll of a card cut."""
    assert way.reach is not None
    scale, shown = saw.scale, way.reach.scale
    if scale.two_sided:
        swing = shown if way.reach.scale_side == "feed" else -shown
    else:
        swing = shown - scale.square if scale.positive == "feed-side" else scale.square - shown
    p, q = tan(radians(swing)), tan(radians(way.reach.tilt)) / cos(radians(swing))
    a = radians(way.roll)
    p, q = p * cos(a) - q * sin(a), p * sin(a) + q * cos(a)
    side = 1 if saw.fixed_jaw == "left" else -1
    return side * p, side * (-q if way.turned else q)


def test_every_card_makes_the_hand_that_is_drawn(solution: Solution) -> None:
    saw = solution.job.saw
    assert saw is not None
    for mark in solution.pieces:
        for end, cut, sign in (("left", mark.piece.left, -1), ("right", mark.piece.right, 1)):
            for way in mark.ways_of(end):
                p, q = as_drawn(saw, way)
                assert hypot(p - sign * cut.p, q - sign * cut.q) < 1e-9


def test_a_card_says_what_the_settings_say_that_it_names(solution: Solution) -> None:
    by_number = {setting.number: setting for setting in solution.settings}
    for mark in solution.pieces:
        for end in ("left", "right"):
            named = {way.number for way in mark.ways_of(end)}
            assert named == {n for n, one in by_number.items() if one.makes(mark.mark, end)}
            for way in mark.ways_of(end):
                assert way.reach is not None
                assert way.reach.scale == by_number[way.number].reach.scale
                assert way.reach.side == by_number[way.number].reach.side


def test_every_cut_of_a_plan_has_its_way_on_the_card(solution: Solution) -> None:
    for run in solution.runs:
        marks = {mark.mark: mark for mark in solution.pieces}
        for cut in run.cuts:
            if cut.mark:
                ways = [way for end in ("left", "right") for way in marks[cut.mark].ways_of(end)]
                assert any(way.reach is not None and way.reach.swing == cut.reach.swing for way in ways)


def test_a_job_that_is_made_as_drawn_is_made(solution: Solution, tmp_path: Path) -> None:
    """What a job with fewer ways to lie makes, the same job with all of them makes as well."""
    if not solution.problems:
        return
    job = (tmp_path / "job.toml").read_text().replace('mark = "P', 'turn = ["as-drawn"]\nmark = "P')
    assert made(tmp_path, job, (tmp_path / "saw.toml").read_text()).problems


ONE_WAY = """\
[saw]
name = "one way"
kind = "hinged"
kerf = 2
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[vise]
fixed_jaw = "left"
[tilt]
lowest = 0
highest = 45
"""


def test_a_pose_that_the_saw_cannot_make_is_not_chosen(tmp_path: Path) -> None:
    """An angle on both toes, heel up, looks the same end for end. A bevel of 20 on its right end tilts to the feed side
    as drawn; end for end it would tilt the other way, where this blade does not go, and heel down it does not lie."""
    more = 'lay = "heel up"\nright = { miter = 30, bevel = 20 }\nquantity = 7'
    job = HEAD + 'saw = "saw.toml"\n' + piece(section="L 50x50x5", more=more) + stock("L 50x50x5")
    free = solved(tmp_path, job, ONE_WAY)
    assert free.pieces[0].piece.poses == ("as-drawn", "end-for-end")
    assert free.problems == ()
    assert {placed.pose for run in free.runs for placed in run.bar.pieces} == {"as-drawn"}


def test_a_piece_that_is_made_only_end_for_end_is_made(tmp_path: Path) -> None:
    """The same bevel on the left end: as drawn it tilts to the discharge side, end for end to the feed side."""
    more = 'lay = "heel up"\nleft = { miter = 30, bevel = 20 }\nquantity = 2'
    job = HEAD + 'saw = "saw.toml"\n' + piece(section="L 50x50x5", more=more)
    for bars in ("", stock("L 50x50x5")):
        made_so = solved(tmp_path, job + bars, ONE_WAY)
        assert made_so.problems == ()
        (way,) = made_so.pieces[0].ways_of("left")
        assert way.turned
        assert "A bar end for end: left" in [uses_words(setting.uses).partition(";")[0] for setting in made_so.settings]
    assert {placed.pose for run in made_so.runs for placed in run.bar.pieces} == {"end-for-end"}


def test_where_no_pose_is_made_the_reason_is_told(tmp_path: Path) -> None:
    upright = piece(more="right = { miter = 0, bevel = 50 }")
    found = solved(tmp_path, HEAD + 'saw = "saw.toml"\n' + upright + stock(), ONE_WAY)
    assert found.problem_marks == ("A",)
    assert any("tilt of 50.00" in problem for problem in found.problems)


def test_page_one_has_every_reading_of_the_ends(solution: Solution) -> None:
    """Of cuts that can be made; of another nothing is set."""
    rows = {row.mark: row for row in floor_of(solution).pieces}
    for mark in solution.pieces:
        told = [reading.degrees for one in rows[mark.mark].cut for reading in (one.left, one.right)]
        for setting in (one for one in solution.settings if one.reach.ok):
            if any(setting.makes(mark.mark, end) for end in ("left", "right")):
                assert any(abs(setting.reach.scale - one) < 1e-9 for one in told)


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_the_kerf_of_a_job_is_the_kerf_of_its_saw(tmp_path: Path, jaw: str) -> None:
    """[nest] kerf 2.3 on a saw of 2, shared cuts of 45: from kerf to kerf the bar moves 300 on the centerline and the
    kerf at the angle, 2.3 * sqrt(2); a control that adds the plain kerf is given 2.3 less."""
    saw = ONE_WAY.replace('"left"', f'"{jaw}"').replace("[tilt]\nlowest = 0\nhighest = 45\n", "")
    saw += "[bed]\nswing_axis = 20\n[feed]\nstroke = 500\ncounts_kerf = true\n"
    more = 'left = 45\nright = -45\nquantity = 3\nat = "centerline"'
    job = HEAD + 'saw = "saw.toml"\n' + piece(more=more, length=300) + stock() + "[nest]\nkerf = 2.3\n"
    found = solved(tmp_path, job, saw)
    assert found.job.saw is not None
    assert found.job.saw.kerf == 2.3
    (run,) = found.runs
    assert run.feed is not None
    counted = [line for line in run.feed.lines if line.counted]
    assert sum(line.quantity for line in counted) == 3
    assert [line.key for line in counted] == pytest.approx([300 + 2.3 * 2**0.5 - 2.3] * len(counted))
