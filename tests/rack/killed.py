"""A process that books and gives back without end, to be killed at any moment; and what must hold of the rack then."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

from mitertool.cut import Cut
from mitertool.rack import BookedBar, Booking, RackBook
from mitertool.rack.values import RackBar

ROOT = Path(__file__).resolve().parents[2]
LYING, EACH, REST = 12, 3, 400.0


def full(path: Path) -> None:
    """A rack with some left-overs of one length."""
    with RackBook.opened(path) as book, book.changing():
        book.add([RackBar("RHS 80x40x3", 2000, 2000)] * LYING)


def endless(path: Path) -> None:
    """Book three for a job, each leaving a rest, and give all back, again and again."""
    with RackBook.opened(path) as book:
        while True:
            for job in range(LYING // EACH):
                rest = RackBar("RHS 80x40x3", REST, REST, left=Cut(45))
                bars = tuple(BookedBar(i, 1, job * EACH + i, rest) for i in range(1, EACH + 1))
                with book.changing():
                    book.book(Booking(f"job {job}", "A", "plan", "", bars))
            for job in range(LYING // EACH):
                with book.changing():
                    if book.booking(f"job {job}", "A"):
                        book.free(f"job {job}", "A")


def against(path: Path) -> str:
    """What does not hold of the rack; "" where all does: every booking whole, every left-over there once."""
    with RackBook.opened(path) as book:
        sound = book.file.execute("PRAGMA integrity_check").fetchone()[0]
        keys = book.file.execute("PRAGMA foreign_key_check").fetchall()
        lying = book.lying()
        jobs = [name for (name,) in book.file.execute("SELECT job FROM booking")]
        bookings = [book.booking(name, "A") for name in jobs]
    first = [bar for bar in lying if bar.length > REST]
    rests = [bar for bar in lying if bar.length == REST]
    whole = all(one and len(one.takes) == EACH and all(bar.leaves for bar in one.bars) for one in bookings)
    taken = sum(bar.taken is not None for bar in lying)
    counted = (len(first), len(rests), taken) == (LYING, len(jobs) * EACH, len(jobs) * EACH)
    return (
        "" if (sound, keys, whole, counted) == ("ok", [], True, True) else f"{sound} {keys} {whole} {len(lying)} {jobs}"
    )


_CODE = """
import sys
from pathlib import Path
from tests.rack.killed import endless
sys.stdout.write(chr(10))
sys.stdout.flush()
endless(Path(sys.argv[1]))
"""


def killed_at_random(path: Path, times: int, seed: int) -> list[str]:
    """Kill such a process so many times at random moments, and say each time what did not hold."""
    dice = random.Random(seed)
    found = []
    for _ in range(times):
        one = subprocess.Popen([sys.executable, "-c", _CODE, str(path)], cwd=ROOT, stdout=subprocess.PIPE)
        assert one.stdout is not None
        one.stdout.readline()
        time.sleep(dice.random() * 0.15)
        one.kill()
        one.communicate()
        found.append(against(path))
    return [one for one in found if one]
