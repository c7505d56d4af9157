"""Signals that stop the program wait for what is written whole, and are heard then; what is ignored stays so."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path
from threading import Thread

import pytest

from mitertool.base import files
from mitertool.base.folders import write_whole_folder
from mitertool.base.stopping import STOPS, InterruptError, StopError, raise_on_signals, undisturbed


@pytest.fixture(autouse=True)
def heard() -> Iterator[None]:
    """As the program hears them; as before afterwards."""
    usual = {number: signal.signal(number, signal.SIG_DFL) for number in STOPS}
    raise_on_signals()
    yield
    for number, how in usual.items():
        signal.signal(number, how)


@pytest.mark.parametrize("number", STOPS)
def test_a_signal_is_an_exception_with_the_code_of_shells(number: int) -> None:
    with pytest.raises(StopError) as stop:
        signal.raise_signal(number)
    assert stop.value.exit_code == 128 + number
    assert isinstance(stop.value, KeyboardInterrupt) == (number == signal.SIGINT)
    assert not isinstance(stop.value, Exception)  # nothing takes it for an error of its own


@pytest.mark.parametrize("number", STOPS)
def test_a_signal_waits_for_the_end_of_the_block(number: int) -> None:
    done = []
    with pytest.raises(StopError) as stop, undisturbed():
        signal.raise_signal(number)
        done.append("after it")
    assert (done, stop.value.number) == (["after it"], number)
    with pytest.raises(StopError):
        signal.raise_signal(number)  # heard as before


def test_a_second_one_does_not_wait() -> None:
    done = []
    with pytest.raises(StopError), undisturbed():
        signal.raise_signal(signal.SIGTERM)
        signal.raise_signal(signal.SIGINT)
        done.append("after it")
    assert done == []


def test_one_that_is_ignored_stays_ignored() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    raise_on_signals()
    with undisturbed():
        signal.raise_signal(signal.SIGINT)
    signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN


def test_blocks_within_blocks_tell_it_once_at_the_end() -> None:
    done = []
    with pytest.raises(StopError), undisturbed():
        with undisturbed():
            signal.raise_signal(signal.SIGTERM)
        done.append("after the inner one")
    assert done == ["after the inner one"]


def test_another_thread_writes_as_ever(tmp_path: Path) -> None:
    one = Thread(target=files.write_whole, args=(tmp_path / "a.txt", b"text"))
    one.start()
    one.join()
    assert (tmp_path / "a.txt").read_bytes() == b"text"


@pytest.mark.parametrize("number", STOPS)
def test_what_is_written_when_it_comes_is_written_whole(
    number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    works = Path.write_bytes

    def signalled(self: Path, content: bytes) -> int:
        if self.name == "a.txt":
            signal.raise_signal(number)
        return works(self, content)

    monkeypatch.setattr(Path, "write_bytes", signalled)
    with pytest.raises(StopError):
        write_whole_folder(tmp_path / "packet", {"a.txt": b"text"})
    assert [path.name for path in tmp_path.iterdir()] == ["packet"]
    assert (tmp_path / "packet" / "a.txt").read_bytes() == b"text"


def test_ctrl_c_is_not_what_python_takes_for_unhandled() -> None:
    """CPython, run_eval_code_obj: only the very class makes the process kill itself at its end."""
    with pytest.raises(KeyboardInterrupt) as stop:
        signal.raise_signal(signal.SIGINT)
    assert type(stop.value) is InterruptError
