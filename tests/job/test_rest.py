"""What remains of a job when some of it is cut, of it or of the revision before; counts by hand."""

from __future__ import annotations

from pathlib import Path

import attrs
import pytest

from mitertool.base.errors import BadInput
from mitertool.job import Job, load, solve
from mitertool.job.before import OldMark, OldPacket
from mitertool.job.done import WorkDone, read_work
from mitertool.job.rest import rest_of
from mitertool.packet.pages.labels import cut_pieces

HEAD = "what,name,length,quantity,grade\n"
PIECE = '[[piece]]\nmark = "{}"\nsection = "RHS 80x40x3"\nlength = {}\nquantity = {}\n{}\n'
STOCK = '[[stock]]\nsection = "RHS 80x40x3"\nlength = 6000\nquantity = 3\n[nest]\nkerf = 2\n'


def job(folder: Path, *pieces: str, revision: str = "A") -> Job:
    path = folder / "job.toml"
    path.write_text(f'[job]\nname = "Week"\nrevision = "{revision}"\n' + "".join(pieces) + STOCK, "utf-8")
    return load(path)


def work(folder: Path, of: Job, *rows: str) -> WorkDone:
    (folder / "done.csv").write_text(HEAD + "".join(f"{row}\n" for row in rows), "utf-8")
    return read_work(folder / "done.csv", of)


def left(of: Job) -> dict[str, int]:
    return {mark: count for order in of.pieces for mark, count in order.counts}


def packet(of: Job) -> OldPacket:
    marks = ((order, mark, count) for order in of.pieces for mark, count in order.counts)
    return OldPacket(
        of.head.revision,
        tuple(OldMark(mark, n, one.piece.section.name, one.grade, one.piece) for one, mark, n in marks),
    )


def fates(of: Job) -> list[tuple[str, int, str, str]]:
    assert of.rest is not None
    return [(one.mark, one.count, one.fate, one.to) for one in of.rest.offers]


def test_good_pieces_are_not_cut_again_and_spoiled_ones_are(tmp_path: Path) -> None:
    whole = job(tmp_path, PIECE.format("A", 1200, 4, ""), PIECE.format("B", 900, 2, ""))
    rest = rest_of(whole, work(tmp_path, whole, "piece,A,,3,", "piece,B,,2,", "spoiled,A,,1,"))
    assert left(rest) == {"A": 1}
    assert fates(rest) == [("A", 3, "keep", "A"), ("B", 2, "keep", "B"), ("A", 1, "scrap", "")]
    assert rest.digest != whole.digest


@pytest.mark.parametrize(("good", "counts"), [(0, (3, 2)), (1, (3, 1)), (4, (1, 0)), (5, None)])
def test_hands_that_are_one_piece_are_counted_together(
    tmp_path: Path, good: int, counts: tuple[int, int] | None
) -> None:
    """A tube with one mitered end is its own opposite hand: 3 and 2 are 5 of one mark."""
    whole = job(tmp_path, PIECE.format("A", 1200, 3, "opposite = 2\nleft = 45"))
    rest = rest_of(whole, work(tmp_path, whole, f"piece,A,,{good},"))
    assert [(one.quantity, one.opposite) for one in rest.pieces] == ([counts] if counts else [])


def test_either_hand_of_a_piece_is_its_own_mark(tmp_path: Path) -> None:
    whole = job(
        tmp_path, '[[piece]]\nmark = "A"\nsection = "L 50x50x5"\nlength = 900\nleft = 45\nquantity = 3\nopposite = 2\n'
    )
    rest = rest_of(whole, work(tmp_path, whole, "piece,A,,1,", "piece,A-OH,,2,"))
    assert left(rest) == {"A": 2}


def test_bars_gone_and_lengths_left_count(tmp_path: Path) -> None:
    whole = job(tmp_path, PIECE.format("A", 1200, 4, ""))
    rest = rest_of(whole, work(tmp_path, whole, "bar used,RHS 80x40x3,6000,2,", "length left,RHS 80x40x3,2500,1,"))
    assert [(bar.length, bar.quantity, bar.cost) for bar in rest.stock] == [(6000, 1, None), (2500, 1, 0)]


@pytest.mark.parametrize(
    ("length", "fate"),
    [("1198.5", ("A", 1, "recut", "B")), ("", ("A", 1, "scrap", "")), ("901", ("A", 1, "scrap", ""))],
)
def test_a_spoiled_piece_may_become_a_shorter_one(tmp_path: Path, length: str, fate: tuple[str, int, str, str]) -> None:
    """902 is needed for one of 900 and a kerf of 2."""
    whole = job(tmp_path, PIECE.format("A", 1200, 1, ""), PIECE.format("B", 900, 1, ""))
    done = work(tmp_path, whole, f"spoiled,A,{length},1,")
    rest = rest_of(whole, done)
    assert fates(rest) == [fate]
    assert left(rest) == {"A": 1, "B": 1}
    assert left(rest_of(whole, done, recut=True)) == ({"A": 1} if fate[2] == "recut" else {"A": 1, "B": 1})


def test_no_more_are_recut_than_are_wanted(tmp_path: Path) -> None:
    whole = job(tmp_path, PIECE.format("A", 1200, 5, ""), PIECE.format("B", 900, 2, ""))
    rest = rest_of(whole, work(tmp_path, whole, "piece,B,,1,", "spoiled,A,1100,3,"))
    assert fates(rest) == [("B", 1, "keep", "B"), ("A", 1, "recut", "B"), ("A", 2, "scrap", "")]


def test_a_piece_cut_too_long_is_recut_to_itself(tmp_path: Path) -> None:
    whole = job(tmp_path, PIECE.format("A", 1200, 1, "left = 45"))
    rest = rest_of(whole, work(tmp_path, whole, "spoiled,A,1210,1,"))
    assert fates(rest) == [("A", 1, "recut", "A")]


def test_every_mark_is_told_beside_the_revision_before(tmp_path: Path) -> None:
    old = job(
        tmp_path, *(PIECE.format(mark, 1200, 2, "left = 45") for mark in ("same", "more", "long", "turn", "gone"))
    )
    new = job(
        tmp_path,
        PIECE.format("same", 1200, 2, "left = 45"),
        PIECE.format("more", 1200, 3, "left = 45"),
        PIECE.format("long", 1250, 2, "left = 45"),
        PIECE.format("turn", 1200, 2, "left = 30"),
        PIECE.format("new", 1200, 2, "left = 45"),
        revision="B",
    )
    rest = rest_of(new, WorkDone(), [packet(old)]).rest
    assert rest is not None
    told = {one.mark: (one.state, [difference.code for difference in one.differences]) for one in rest.changes}
    assert told == {
        "same": ("unchanged", []),
        "more": ("changed", ["quantity"]),
        "long": ("changed", ["long-point", "short-point"]),
        "turn": ("changed", ["short-point", "left-miter"]),
        "new": ("new", []),
        "gone": ("gone", []),
    }
    assert rest.revision == "A"


@pytest.mark.parametrize(
    ("holes", "told"),
    [
        ('[{ at = 100, from = "left", side = "top" }]', []),
        ('[{ at = 120, from = "left", side = "top" }]', ["hole"]),
        ('[{ at = 100, from = "right", side = "top" }]', ["hole-side"]),
        ('[{ at = 100, from = "left", side = "top" }, { at = 300, from = "left", side = "top" }]', ["holes"]),
    ],
)
def test_a_hole_that_lies_elsewhere_is_a_change_and_its_piece_is_not_kept(
    tmp_path: Path, holes: str, told: list[str]
) -> None:
    given = ('[{ at = 100, from = "left", side = "top" }]', holes)
    old, new = (
        job(tmp_path, PIECE.format("A", 1200, 1, f"holes = {one}"), revision=revision)
        for one, revision in zip(given, "AB", strict=True)
    )
    before = OldPacket("A", (attrs.evolve(packet(old).marks[0], holes=old.pieces[0].places),))
    (tmp_path / "done.csv").write_text(HEAD + "piece,A,,1,\n", "utf-8")
    rest = rest_of(new, read_work(tmp_path / "done.csv", new, [before]), [before])
    assert rest.rest is not None
    assert [one.code for one in rest.rest.changes[0].differences] == told
    assert [fate for _, _, fate, _ in fates(rest)] == ["scrap" if told else "keep"]


def test_a_piece_that_is_drawn_the_other_way_round_is_the_same(tmp_path: Path) -> None:
    """A tube with its miter at the right end is that with it at the left, turned; of an angle it is another hand."""
    tube, angle = PIECE, PIECE.replace("RHS 80x40x3", "L 50x50x5").replace('"{}"', '"L{}"', 1)
    old, new = (
        job(tmp_path, *(made.format("A", 1200, 2, f"{end} = 45") for made in (tube, angle)), revision=revision)
        for revision, end in (("A", "left"), ("B", "right"))
    )
    before = packet(old)
    (tmp_path / "done.csv").write_text(HEAD + "piece,A,,1,\n", "utf-8")
    rest = rest_of(new, read_work(tmp_path / "done.csv", new, [before]), [before])
    assert rest.rest is not None
    told = {one.mark: (one.state, [difference.code for difference in one.differences]) for one in rest.rest.changes}
    assert told == {"A": ("unchanged", []), "LA": ("changed", ["left-miter", "right-miter"])}
    assert fates(rest) == [("A", 1, "keep", "A")]


def test_pieces_of_the_revision_before_are_kept_recut_or_scrapped(tmp_path: Path) -> None:
    """Three of `same` for two that are wanted: the third becomes `long`; `gone` is too short for anything."""
    were = {"same": (1200, 3), "long": (1000, 2), "gone": (300, 1)}
    are = {"same": (1200, 2), "long": (990, 2), "short": (500, 1)}
    old, new = (
        job(tmp_path, *(PIECE.format(mark, *of, "") for mark, of in marks.items()), revision=revision)
        for marks, revision in ((were, "A"), (are, "B"))
    )
    before = packet(old)
    rows = ("job,Week,,,", "revision,A,,,", "piece,same,,3,", "piece,long,,1,", "piece,gone,,1,")
    (tmp_path / "done.csv").write_text(HEAD + "\n".join(rows), "utf-8")
    done = read_work(tmp_path / "done.csv", new, [before])
    rest = rest_of(new, done, [before], recut=True)
    assert fates(rest) == [
        ("same", 2, "keep", "same"),
        ("same", 1, "recut", "long"),
        ("long", 1, "recut", "long"),
        ("gone", 1, "scrap", ""),
    ]
    assert left(rest) == {"short": 1}


@pytest.mark.parametrize(
    ("row", "tells"),
    [
        ("piece,A,,5,", "0 to 4"),
        ("piece,X,,1,", "'X'"),
        ("spoiled,X,,1,", "'X'"),
        ("spoiled,A,-5,1,", "length"),
        ("job,Other,,,", "another job"),
        ("revision,B,,,", "known here: A"),
        ("piece,A,,-1,", "quantity"),
        ("sold,A,,1,", "what"),
    ],
)
def test_what_cannot_have_been_done_is_refused(tmp_path: Path, row: str, tells: str) -> None:
    whole = job(tmp_path, PIECE.format("A", 1200, 4, ""))
    with pytest.raises(BadInput) as error:
        work(tmp_path, whole, row)
    assert tells in str(error.value)
    assert "done.csv: line 2" in str(error.value)


def test_labels_of_a_rest_count_on(tmp_path: Path) -> None:
    """Three of four are good: the label of the last one says 4 of 4."""
    whole = job(tmp_path, PIECE.format("A", 1200, 4, ""))
    rest = rest_of(whole, work(tmp_path, whole, "piece,A,,3,"))
    assert [(one.number, one.of) for one in cut_pieces(solve(rest, effort=0.1))] == [(4, 4)]
