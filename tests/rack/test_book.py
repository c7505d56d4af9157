"""The rack's file: nothing of it is lost or counted twice, whoever writes and whenever a run ends."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import attrs
import pytest

from mitertool.base.errors import BadInput, BadRows
from mitertool.cut import Cut
from mitertool.rack import BookedBar, Booking, RackBook
from mitertool.rack.bars import for_job, whole_and_rest
from mitertool.rack.exchange import COLUMNS, exported, imported
from mitertool.rack.schema import MARK, STEPS
from mitertool.rack.values import Closed, Freed, RackBar, rack_bar
from mitertool.sections import section

TUBE = "RHS 80x40x3"


def bar(length: float = 2000.0, **more: Any) -> RackBar:
    return rack_bar(section(TUBE), length, Cut(), Cut(), **more)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[RackBook]:
    with RackBook.opened(tmp_path / "rack.sqlite") as opened:
        yield opened


def put(book: RackBook, *lengths: float) -> tuple[int, ...]:
    with book.changing():
        return book.add([bar(length) for length in lengths])


def booking(job: str, *takes: int, leaves: float = 0.0, plan: str = "p1") -> Booking:
    rest = bar(leaves) if leaves else None
    bars = [BookedBar(i, 1, number, rest if i == 1 else None) for i, number in enumerate(takes, 1)]
    return Booking(job, "A", plan, "", tuple(bars))


def booked(book: RackBook, one: Booking) -> bool:
    with book.changing():
        return book.book(one)


def free(book: RackBook, job: str, *cut: str) -> Freed:
    with book.changing():
        return book.free(job, "A", cut)


def lengths(book: RackBook, taken: bool = False) -> list[float]:
    return sorted(one.length for one in book.lying() if bool(one.taken) == taken)


def test_a_slanted_end_leaves_less_whole() -> None:
    """45 degrees over 40 mm takes 40 off; a bevel of 30 over 80 mm takes 80 tan 30 off."""
    made = rack_bar(section(TUBE), 1300, Cut(45), Cut(0, 30))
    assert made.square == pytest.approx(1300 - 40 - 80 * 3**-0.5, abs=1e-9)


@pytest.mark.parametrize(("length", "ends"), [(-5, 0), (0, 0), (24_001, 0), (79, 45)])
def test_a_left_over_that_cannot_be_is_refused(length: float, ends: float) -> None:
    with pytest.raises(BadInput):
        rack_bar(section(TUBE), length, Cut(ends), Cut(ends))


def test_what_is_added_lies_there_with_all_that_is_known(book: RackBook) -> None:
    made = rack_bar(section(TUBE), 1300, Cut(45), Cut(0, 10), grade="S355", heat="H7", place="bay 3", date="Friday")
    with book.changing():
        (number,) = book.add([made])
    (lying,) = book.lying()
    assert (lying.number, lying.left, lying.right, lying.heat, lying.place) == (
        number,
        Cut(45),
        Cut(0, 10),
        "H7",
        "bay 3",
    )
    assert (lying.grade, lying.date, lying.square) == ("S355", "Friday", made.square)


def test_twice_booked_is_once_booked(book: RackBook) -> None:
    one, two = put(book, 2000, 3000)
    assert booked(book, booking("gate", one, two, leaves=700))
    assert not booked(book, booking("gate", one, two, leaves=700))
    assert (lengths(book, taken=True), lengths(book)) == ([2000, 3000], [700])


def test_a_changed_plan_says_what_differs(book: RackBook) -> None:
    one, two = put(book, 2000, 3000)
    booked(book, booking("gate", one, leaves=700))
    with pytest.raises(BadInput) as error:
        booked(book, booking("gate", two, leaves=800, plan="p2"))
    assert f"took {one} and left 700 mm; this one takes {two} and leaves 800 mm" in str(error.value)
    assert lengths(book, taken=True) == [2000]


def test_what_another_has_booked_is_refused_whole(book: RackBook) -> None:
    one, two = put(book, 2000, 3000)
    booked(book, booking("gate", two))
    with pytest.raises(BadInput, match="gate A has booked it"):
        booked(book, booking("fence", one, two, leaves=50))
    assert book.booking("fence", "A") is None
    assert (lengths(book, taken=True), lengths(book)) == ([3000], [2000])


def test_the_file_itself_books_nothing_twice(book: RackBook) -> None:
    (one,) = put(book, 2000)
    booked(book, booking("gate", one))
    with pytest.raises(sqlite3.IntegrityError):
        book.file.execute("INSERT INTO booked_bar (booking, number, copy, takes) VALUES (1, 9, 1, ?)", (one,))


def test_what_is_given_back_lies_free_and_what_was_cut_stays_cut(book: RackBook) -> None:
    one, two = put(book, 2000, 3000)
    rest = (bar(500), bar(900))
    bars = tuple(BookedBar(i, 1, n, left) for i, n, left in ((1, one, rest[0]), (2, two, rest[1])))
    booked(book, Booking("gate", "A", "p", "", bars))
    free(book, "gate", "1")
    assert lengths(book) == [500, 3000]
    with pytest.raises(BadInput, match="booked nothing"):
        free(book, "gate")


def test_what_a_plan_leaves_is_expected_until_it_is_closed_as_cut(book: RackBook) -> None:
    """Another job gets none of it before, and all of it then; what the plan itself takes it may have."""
    one, two = put(book, 2000, 3000)
    booked(book, booking("gate", one, leaves=900))
    wanted = [(TUBE, "")]
    assert [(bar.length, bar.expected) for bar in book.lying()] == [(3000, False), (2000, False), (900, True)]
    assert [bar.number for bar in for_job(book.lying(), ("fence", "A"), wanted)] == [two]
    assert [bar.number for bar in for_job(book.lying(), ("gate", "A"), wanted)] == [two, one]
    free(book, "gate", "all")
    assert [(bar.length, bar.expected) for bar in book.lying()] == [(3000, False), (900, False)]
    assert [bar.length for bar in for_job(book.lying(), ("fence", "A"), wanted)] == [3000, 900]


def test_what_was_closed_as_cut_is_not_booked_again(book: RackBook) -> None:
    """Neither by its name nor, as a rest, with the same pieces; what was given back uncut is."""
    one, two = put(book, 2000, 3000)
    booked(book, attrs.evolve(booking("gate", one), work="w1"))
    free(book, "gate")
    booked(book, attrs.evolve(booking("gate", one), work="w1"))
    free(book, "gate", "1")
    for again in (booking("gate", two, plan="p2"), Booking("gate", "A rest", "p3", work="w1")):
        with pytest.raises(BadInput, match="its bars 1 are told as cut"):
            booked(book, again)
    assert [bar.taken for bar in book.lying()] == [None]
    assert booked(book, Booking("gate", "A rest", "p3", work="w2"))
    assert booked(book, booking("fence", two))


def test_rests_count_on_when_the_one_before_is_cut() -> None:
    closed = [Closed("gate", "A rest", "p", "w", ("1",)), Closed("fence", "A rest 2", "p", "w", ("1",))]
    assert whole_and_rest("gate", "A", closed) == (("gate", "A"), ("gate", "A rest 2"))
    assert whole_and_rest("gate", "", ()) == (("gate", ""), ("gate", "rest"))


def test_bought_bars_that_are_given_back_lie_on_the_rack(book: RackBook) -> None:
    """Of three of new steel one is cut, one here and one not ordered: it is told, so that nothing vanishes."""
    bars = tuple(BookedBar(1, copy, 0, bar(700), bar(6000, heat="H9")) for copy in (1, 2, 3))
    booked(book, Booking("gate", "A", "p", "", bars))
    with book.changing():
        found = book.free("gate", "A", ["1.3"], ["1.2"])
    assert [one.called for one in found.new] == ["1"]
    added = [one.number for one in found.added]
    assert [(one.length, one.heat, one.number in added, one.bought) for one in book.lying()] == [
        (6000, "H9", True, "gate"),
        (700, "", False, ""),
    ]


def test_heat_and_place_are_said_of_what_lies_there(book: RackBook) -> None:
    """What is not said stays; of a number that does not lie there nothing is said, nor of those beside it."""
    one, two = put(book, 2000, 1000)
    with book.changing():
        book.note([one, two], {"heat": "4711"})
        book.note([two], {"place": "bay 3"})
    assert [(bar.heat, bar.place) for bar in book.lying()] == [("4711", ""), ("4711", "bay 3")]
    with pytest.raises(BadInput), book.changing():
        book.note([one, 99], {"heat": "0815"})
    assert [bar.heat for bar in book.lying()] == ["4711", "4711"]


def whole_rack(book: RackBook) -> tuple[object, ...]:
    return book.lying(), book.bookings(), book.closed()


def of_three(one: int, two: int) -> Booking:
    """Two left-overs and two bars of new steel, the last of which leaves nothing."""
    bars = (BookedBar(1, 1, one, bar(500)), BookedBar(2, 1, two, bar(900)))
    new = (BookedBar(3, 1, 0, bar(700), bar(6000, heat="H9")), BookedBar(3, 2, 0, None, bar(6000)))
    return Booking("gate", "A", "p", "Monday", (*bars, *new), "w")


@pytest.mark.parametrize(("cut", "bought"), [(["1"], ["3.2"]), (["all"], []), (["3"], []), (["2", "3.1"], ["3.2"])])
def test_a_closing_told_by_mistake_is_taken_back(book: RackBook, cut: list[str], bought: list[str]) -> None:
    """Then all is as before, steel for steel, and it can be closed as it was."""
    booked(book, of_three(*put(book, 2000, 3000)))
    before = whole_rack(book)
    for _ in range(2):
        with book.changing():
            book.free("gate", "A", cut, bought)
        assert whole_rack(book) != before
        with book.changing():
            reopened = book.reopen("gate", "A")
        assert whole_rack(book) == before
        assert reopened.takes == (1, 2)
    with pytest.raises(BadInput, match="nothing of it was closed"), book.changing():
        book.reopen("gate", "A")


@pytest.mark.parametrize("taken", ["gives back", "leaves"])
def test_a_closing_is_not_taken_back_under_another_job(book: RackBook, taken: str) -> None:
    one, two = put(book, 2000, 3000)
    booked(book, of_three(one, two))
    free(book, "gate", "1")
    lying = {lying.length: lying.number for lying in book.lying()}
    booked(book, booking("fence", two if taken == "gives back" else lying[500]))
    before = whole_rack(book)
    with pytest.raises(BadInput, match="fence A has booked it"), book.changing():
        book.reopen("gate", "A")
    assert whole_rack(book) == before


def test_a_closing_that_came_from_a_table_is_not_taken_back(book: RackBook, tmp_path: Path) -> None:
    booked(book, of_three(*put(book, 2000, 3000)))
    free(book, "gate", "1")
    with RackBook.opened(tmp_path / "other.sqlite") as other:
        imported(other, exported(book), "rack.csv")
        with pytest.raises(BadInput, match="does not tell what its bars took"), other.changing():
            other.reopen("gate", "A")


def test_what_another_builds_on_is_not_taken_away(book: RackBook) -> None:
    """A job has booked what another one leaves: that one cannot be undone under it."""
    (one,) = put(book, 2000)
    booked(book, booking("gate", one, leaves=900))
    (rest,) = (lying for lying in book.lying() if lying.came)
    booked(book, booking("fence", rest.number))
    with pytest.raises(BadInput, match="fence A has booked it"):
        free(book, "gate")
    assert book.booking("gate", "A") is not None


def test_a_number_is_given_once(book: RackBook) -> None:
    (one,) = put(book, 2000)
    with book.changing():
        book.remove([one], "scrapped")
    assert put(book, 2000) == (one + 1,)
    with pytest.raises(BadInput, match="no left-over of this number"), book.changing():
        book.remove([one], "again")


def test_an_error_inside_a_change_undoes_all_of_it(book: RackBook) -> None:
    with pytest.raises(ZeroDivisionError), book.changing():
        book.add([bar(), bar()])
        raise ZeroDivisionError
    assert book.lying() == ()


def restored(tmp_path: Path, content: bytes) -> tuple[RackBar, ...]:
    with RackBook.opened(tmp_path / "other.sqlite") as other:
        imported(other, content, "rack.csv")
        return other.lying()


def test_an_export_brings_back_the_same_rack(book: RackBook, tmp_path: Path) -> None:
    """Bookings among it, and a left-over that one job left and another has booked."""
    with book.changing():
        book.add(
            [rack_bar(section(TUBE), 1300.25, Cut(45), Cut(0, 10), grade="S355", heat="=1+1", place="@bay", date="-")]
        )
    one, two = put(book, 2000, 3000)
    booked(book, booking("gate", one, two, leaves=900))
    (rest,) = (lying.number for lying in book.lying() if lying.came)
    booked(book, booking("fence", rest, plan="p2"))
    booked(book, Booking("rail", "A", "p4", "", (BookedBar(1, 1, 0, None, bar(6000)), BookedBar(2, 1)), "w4"))
    booked(book, Booking("shed", "A", "p5", "", (BookedBar(1, 1, 0, None, bar(6000)),), "w5"))
    free(book, "shed", "1")
    booked(book, Booking("hut", "A", "p6", "", (BookedBar(1, 1, 0, None, bar(6000)),), "w6"))
    with book.changing():
        book.free("hut", "A", (), ["1"])
    table = exported(book)
    with RackBook.opened(tmp_path / "third.sqlite") as other:
        imported(other, table, "rack.csv")
        assert (set(other.bookings()), other.closed()) == (set(book.bookings()), book.closed())
        assert exported(other) == table
    assert restored(tmp_path, table) == book.lying()
    assert b",=1+1" not in table
    assert b"'=1+1" in table
    assert imported(book, table, "rack.csv") == (0, 5)


def test_a_table_that_was_kept_elsewhere_comes_in(book: RackBook) -> None:
    table = f"section,length_mm,left_deg,place\n{TUBE},1300,45,bay 2\nrhs 40 x 80 x 3,900,,\n"
    assert imported(book, table.encode(), "old.csv") == (2, 0)
    assert [(one.length, one.square) for one in book.lying()] == [(1300, 1260), (900, 900)]


def test_every_bad_row_of_a_table_is_told_and_none_comes_in(book: RackBook) -> None:
    (one,) = put(book, 2000)
    rows = [",-5,", "RHS 8x4x99,700,", f"{TUBE},25000,", f"{TUBE},700,{one}", f"{TUBE},700,"]
    with pytest.raises(BadRows) as error:
        imported(book, "\n".join(["section,length_mm,number", *rows]).encode(), "old.csv")
    assert [line.split(":")[1] for line in error.value.lines] == [" row 2", " row 3", " row 4", " row 5"]
    assert lengths(book) == [2000]


@pytest.mark.parametrize(
    ("head", "tells"),
    [
        (b"section,place", "the columns length_mm"),
        (b"a,b", "the columns section and length_mm"),
        (b"", "found 'nothing'"),
        (b"section,length_mm,plaice", "old.csv: column, unknown key: found 'plaice'"),
    ],
)
def test_the_column_that_is_refused_is_named(book: RackBook, head: bytes, tells: str) -> None:
    with pytest.raises(BadInput) as error:
        imported(book, head + b"\n1,2,3\n", "old.csv")
    assert tells in str(error.value)
    assert {"section", "length_mm"} <= set(COLUMNS)


def broken(path: Path) -> None:
    path.write_bytes(b"no database at all, " * 400)


def foreign(path: Path) -> None:
    with sqlite3.connect(path) as file:
        file.execute("CREATE TABLE birds (name TEXT)")


def newer(path: Path) -> None:
    with RackBook.opened(path) as book:
        book.file.execute(f"PRAGMA user_version = {len(STEPS) + 1}")


def torn(path: Path) -> None:
    with RackBook.opened(path) as book:
        put(book, *range(500, 3000, 5))
    content = bytearray(path.read_bytes())
    content[4096 : len(content)] = b"\xff" * (len(content) - 4096)
    path.write_bytes(content)


@pytest.mark.parametrize(
    ("made", "tells"), [(broken, "damaged"), (foreign, "another program"), (newer, "newer program"), (torn, "damaged")]
)
def test_a_file_that_is_no_rack_is_told_and_left_alone(
    made: Callable[[Path], None], tells: str, tmp_path: Path
) -> None:
    path = tmp_path / "rack.sqlite"
    made(path)
    before = path.read_bytes()
    with pytest.raises(BadInput, match=tells), RackBook.opened(path) as book:
        book.lying()
    assert path.read_bytes() == before


def test_a_rack_at_which_another_run_stays_is_told(book: RackBook, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("mitertool.rack.book._WAITS", 0.01)
    with (
        book.changing(),
        pytest.raises(BadInput, match="another run"),
        RackBook.opened(book.path) as other,
        other.changing(),
    ):
        other.add([bar()])


def test_a_new_file_bears_its_mark_and_version(book: RackBook) -> None:
    found = [book.file.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version")]
    assert found == [MARK, len(STEPS)]
    assert book.file.execute("PRAGMA journal_mode").fetchone()[0] == "delete"


def test_an_older_rack_is_brought_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file of this version opened by a program that knows one step more, and one of the first version by this."""
    monkeypatch.setattr("mitertool.rack.book.STEPS", STEPS[:1])
    with RackBook.opened(tmp_path / "first.sqlite") as book:
        there = "section, grade, heat, length, square, left_miter, left_bevel, right_miter, right_bevel, place, date"
        book.file.execute(f"INSERT INTO left_over ({there}) VALUES ('{TUBE}', '', '', 2000, 2000, 0, 0, 0, 0, '', '')")
        book.file.execute("INSERT INTO booking VALUES (1, 'gate', 'A', 'p1', '')")
        book.file.execute("INSERT INTO booked_bar VALUES (1, 1, 1, 1, NULL)")
    monkeypatch.setattr("mitertool.rack.book.STEPS", STEPS)
    with RackBook.opened(tmp_path / "first.sqlite") as book:
        assert book.bookings() == (booking("gate", 1),)
    path = tmp_path / "rack.sqlite"
    with RackBook.opened(path) as book:
        put(book, 2000)
    monkeypatch.setattr("mitertool.rack.book.STEPS", (*STEPS, "ALTER TABLE left_over ADD COLUMN colour TEXT"))
    with RackBook.opened(path) as book:
        assert lengths(book) == [2000]
        assert book.file.execute("PRAGMA user_version").fetchone()[0] == len(STEPS) + 1
        assert book.file.execute("SELECT colour FROM left_over").fetchone() == (None,)
