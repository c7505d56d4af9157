"""A run that is killed while it books is before or after; two runs at once never book one left-over twice."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from mitertool.rack import RackBook
from tests.rack.killed import LYING, ROOT, against, full, killed_at_random

ONE = """
import sys
from pathlib import Path
from mitertool.base.errors import BadInput
from mitertool.rack import BookedBar, Booking, RackBook
path, name = Path(sys.argv[1]), sys.argv[2]
sys.stdin.readline()
done = 0
with RackBook.opened(path) as book:
    for number in range(1, 13):
        try:
            with book.changing():
                book.book(Booking(f"{name} {number}", "A", "plan", "", (BookedBar(1, 1, number),)))
            done += 1
        except BadInput as error:
            assert "has booked it" in str(error), error
print(done)
"""


def test_killed_at_any_moment_it_is_before_or_after(tmp_path: Path) -> None:
    full(tmp_path / "rack.sqlite")
    assert killed_at_random(tmp_path / "rack.sqlite", 12, seed=1) == []


def test_two_at_once_book_each_left_over_once(tmp_path: Path) -> None:
    path = tmp_path / "rack.sqlite"
    full(path)
    command = [sys.executable, "-c", ONE, str(path)]
    both = [
        subprocess.Popen([*command, name], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        for name in ("gate", "fence")
    ]
    for one in both:
        assert one.stdin is not None
        one.stdin.write("go\n")
        one.stdin.flush()
    counts = [int(one.communicate()[0]) for one in both]
    assert sum(counts) == LYING
    with RackBook.opened(path) as book:
        assert all(bar.taken for bar in book.lying())
        assert book.file.execute("PRAGMA integrity_check").fetchone()[0] == "ok"


def test_the_check_itself_sees_a_booking_that_is_not_whole(tmp_path: Path) -> None:
    path = tmp_path / "rack.sqlite"
    full(path)
    assert against(path) == ""
    with RackBook.opened(path) as book:
        book.file.execute("INSERT INTO booking (job, revision, plan, date) VALUES ('half', 'A', 'p', '')")
    assert against(path) != ""
