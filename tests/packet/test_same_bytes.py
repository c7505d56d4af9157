"""The same job gives the same bytes, whatever the order of hashes, the zone, the language, the folder and the umask.

Every Python that is there, more languages and folders: `python -m tests.bench.same_bytes`.
"""

from __future__ import annotations

import builtins
from collections.abc import Iterable
from itertools import product
from pathlib import Path

import pytest

from mitertool.base import beside
from mitertool.job import load, solve
from mitertool.packet import packet
from mitertool.packet.packet import Options, packet_files
from tests.packet.byte_runs import begun, files_of
from tests.packet.jobs import GALLERY, ROOT

SETTINGS = (
    ({"PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C"}, 0o022),
    ({"PYTHONHASHSEED": "42", "TZ": "Asia/Kolkata", "LC_ALL": "tr_TR.UTF-8", "PYTHONUTF8": "1"}, 0o077),
)


def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    works = [tmp_path / "one", tmp_path / "an other"]
    both = [begun(work, settings, GALLERY, mask) for work, (settings, mask) in zip(works, SETTINGS, strict=True)]
    assert [one.wait() for one in both] == [0, 0]
    one, other = map(files_of, works)
    assert set(one) == set(other) >= {"cut.json", "page.html"}
    kinds = {(Path(path).parts[0], Path(path).suffix) for path in one}
    assert kinds >= set(product(GALLERY, (".pdf", ".html", ".csv", ".json", ".dxf")))
    assert [path for path in one if one[path] != other[path]] == []


def test_two_processes_at_one_packet_write_what_one_writes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system can fork half of the files come from a second process."""
    files = {}
    monkeypatch.setattr(packet, "_MANY", 0)
    for both in (True, False):
        monkeypatch.setattr(beside, "_may_fork", lambda both=both: both)
        files[both] = packet_files(solve(load(ROOT / "gallery" / "loft-window" / "job.toml")), Options(codes=True))
    assert list(files[True].items()) == list(files[False].items())


@pytest.mark.parametrize("name", GALLERY)
def test_a_job_that_is_read_again_is_the_same(name: str) -> None:
    path = ROOT / "gallery" / name / "job.toml"
    first = load(path)
    for _ in range(4):
        again = load(path)
        assert again.pieces == first.pieces
        assert again.frames == first.frames


def test_nothing_that_is_measured_is_added_by_what_rounds_otherwise_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """Python's `sum` adds floats otherwise from 3.12 on, complex numbers from 3.14 on."""
    plain = sum

    def of_what_is_exact(values: Iterable[object], *start: object) -> object:
        counted = list(values)
        assert not any(isinstance(one, float | complex) for one in counted), counted
        return plain(counted, *start)  # type: ignore[call-overload]

    monkeypatch.setattr(builtins, "sum", of_what_is_exact)
    assert packet_files(solve(load(ROOT / "gallery" / "engine-shed" / "job.toml")), Options())
