"""The bar of long work: on a terminal only, drawn anew only when it says something new, gone at the end."""

from __future__ import annotations

import io
from collections.abc import Callable

import pytest

from mitertool.cli.progress import bar_line, progress


class Terminal(io.StringIO):
    """A stream on which somebody looks."""

    def isatty(self) -> bool:
        return True


def screen(written: str) -> str:
    """The line that a terminal shows after what was written, each \\r going back to its beginning."""
    line: list[str] = []
    for part in written.split("\r"):
        line[: len(part)] = part
    return "".join(line).rstrip()


def clock(*times: float) -> Callable[[], float]:
    """A clock that shows these times, the last one from then on."""
    left = list(times)
    return lambda: left.pop(0) if len(left) > 1 else left[0]


@pytest.fixture(autouse=True)
def eighty_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")


@pytest.mark.parametrize(
    ("share", "line"),
    [
        (0, "[........................]   0 %  sketches"),
        (0.5, "[############............]  50 %  sketches"),
        (0.999, "[#######################.]  99 %  sketches"),
        (1, "[########################] 100 %  sketches"),
        (-1, "[........................]   0 %  sketches"),
        (7, "[########################] 100 %  sketches"),
    ],
)
def test_a_line(share: float, line: str) -> None:
    assert bar_line(share, "sketches", 80) == line


@pytest.mark.parametrize("columns", [10, 20, 40, 80])
def test_a_line_never_reaches_the_edge(columns: int) -> None:
    assert len(bar_line(0.5, "sketch of RAIL " * 9, columns)) == columns - 1


def test_words_cannot_move_the_cursor() -> None:
    assert bar_line(0, "RAIL\x1b[2J\rX", 80).endswith("RAIL?[2J X")


def test_it_is_drawn_and_gone_at_the_end() -> None:
    terminal = Terminal()
    with progress(stream=terminal, clock=clock(0, 1)) as tell:
        tell(0.25, "bars of every length")
        assert screen(terminal.getvalue()) == "[######..................]  25 %  bars of every length"
        tell(0.5, "sheet")
        assert screen(terminal.getvalue()) == "[############............]  50 %  sheet"
    assert screen(terminal.getvalue()) == ""
    assert terminal.getvalue().endswith("\r")


def test_it_is_gone_after_an_error_too() -> None:
    terminal = Terminal()
    with pytest.raises(ZeroDivisionError), progress(stream=terminal, clock=clock(0, 1)) as tell:
        tell(0.5, "bars")
        tell(1 / 0, "never")
    assert "bars" in terminal.getvalue()
    assert screen(terminal.getvalue()) == ""


def test_the_same_line_is_drawn_once() -> None:
    terminal = Terminal()
    with progress(stream=terminal, clock=clock(0, 1)) as tell:
        for i in range(1000):
            tell(0.5 + i / 1e6, "bars")
        assert terminal.getvalue().count("bars") == 1


def test_short_work_shows_nothing() -> None:
    terminal = Terminal()
    with progress(stream=terminal, clock=clock(0, 0.1, 0.2, 0.29)) as tell:
        for share in (0.2, 0.4, 0.9):
            tell(share, "bars")
    assert terminal.getvalue() == ""


def test_it_is_silent_with_json() -> None:
    terminal = Terminal()
    with progress(quiet=True, stream=terminal, clock=clock(0, 1)) as tell:
        tell(0.5, "bars")
    assert terminal.getvalue() == ""


def test_it_is_silent_where_stderr_is_no_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    with progress(clock=clock(0, 1)) as tell:
        tell(0.5, "bars")
    assert capsys.readouterr() == ("", "")


def test_a_terminal_of_few_letters_gets_letters_that_it_has() -> None:
    class Plain(Terminal):
        encoding = "ascii"

    terminal = Plain()
    with progress(stream=terminal, clock=clock(0, 1)) as tell:
        tell(0.5, "bars at 45°…")
        assert terminal.getvalue().rstrip().endswith("50 %  bars at 45 deg...")
        assert terminal.getvalue().isascii()
