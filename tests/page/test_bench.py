"""Work behind the page: begun once, told of, stopped, and in the language of whoever asked."""

from __future__ import annotations

from threading import Event
from time import sleep

from mitertool.base.language import spoken
from mitertool.page.bench import Bench, Tell
from mitertool.words import phrase


def test_the_same_work_is_begun_once() -> None:
    bench, times = Bench(), []
    works = [bench.asked("a", lambda tell: times.append(1)) for _ in range(3)]
    works[0].over.wait(5)
    assert len({id(work) for work in works}) == 1 and times == [1] and works[0].good
    bench.asked("a", lambda tell: times.append(1), anew=True).over.wait(5)
    assert times == [1, 1]


def test_work_tells_how_far_it_is_and_stops() -> None:
    bench, told, go = Bench(), Event(), Event()

    def make(tell: Tell) -> str:
        tell(0.5, "half")
        told.set()
        go.wait(5)
        tell(0.6, "more")
        return "never"

    work = bench.asked("a", make)
    told.wait(5)
    assert (work.share, work.says, work.over.is_set()) == (0.5, "half", False)
    work.stop()
    go.set()
    work.over.wait(5)
    assert work.stopped and not work.good and work.result is None


def test_what_goes_wrong_is_told() -> None:
    work = Bench().asked("a", lambda tell: 1 / 0)
    work.over.wait(5)
    assert not work.good and "division by zero" in work.lines[0]


def test_it_speaks_as_whoever_asked() -> None:
    with spoken("de"):
        work = Bench().asked("a", lambda tell: phrase("page.jobs"))
    work.over.wait(5)
    assert work.result == "Aufträge"


def test_finished_work_is_forgotten_the_oldest_first() -> None:
    bench = Bench()
    for number in range(40):
        bench.asked(number, lambda tell: None).over.wait(5)
    assert bench.found(0) is None and bench.found(39) is not None


def test_work_that_tells_nothing_is_stopped_too() -> None:
    bench, begun = Bench(), Event()

    def make(tell: Tell) -> None:
        begun.set()
        for _ in range(3000):
            sleep(0.001)

    work = bench.asked("a", make)
    begun.wait(5)
    work.stop()
    assert work.over.wait(1) and work.stopped
    after = [bench.asked(number, lambda tell: "done") for number in range(4)]
    assert all(one.over.wait(5) and one.result == "done" for one in after)
