"""Benchmark of `check`: `python -m tests.bench.check_bench [--most 10000]`.

Whole processes, processor seconds and peak memory: jobs of 100, 1,000 and 10,000 marks with a saw, ten pieces a mark
of fourteen sections, first without stock, then with stock of 6 m in both grades; and a ring of 100 and 1,000 sides of
which every second corner stands in. Beside each stands by which power of the size the seconds grew, start-up taken off.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from math import cos, log, pi, sin
from pathlib import Path
from typing import Final

from tests.bench.packet_bench import FRAMED, ROOT, SECTIONS, job_text

SIZES: Final = (100, 1_000, 10_000)
SIDE: Final = 300.0
IN: Final = 40.0
"""mm of a side of the ring, and by how much every second corner stands in."""


def with_stock(text: str) -> str:
    rows = (
        f'[[stock]]\nsection = "{name}"\ngrade = "{grade}"\nlength = 12000\n'
        for name in dict.fromkeys((*SECTIONS, *FRAMED))
        for grade in ("S235JR", "S235JRH")
    )
    return "\n".join((text, *rows))


def ring(sides: int) -> str:
    out = SIDE * sides / (2 * pi)
    spots = (((out - IN * (i % 2)), -2 * pi * i / sides) for i in range(sides))
    points = [[round(r * cos(a), 3), round(0.95 * r * sin(a), 3)] for r, a in spots]
    what = 'mark = "R"\nshape = "polygon"\nsection = "RHS 80x40x3"\nmeasured = "outside"\n'
    return f'[job]\nname = "Ring"\nunits = "mm"\n[[frame]]\n{what}points = {points}\n'


def checked(folder: Path, text: str) -> tuple[float, float]:
    """Processor seconds and MB of a `check` in a process of its own."""
    (folder / "job.toml").write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "mitertool", "check", str(folder / "job.toml")]
    child = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode > 1:
        raise SystemExit("check failed")
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def lines(folder: Path, what: str, texts: Sequence[tuple[int, str]], start: float) -> Iterator[str]:
    before: tuple[int, float] | None = None
    for size, text in texts:
        spent, memory = checked(folder, text)
        own = max(spent - start, 0.01)
        power = "" if before is None else f"{log(own / before[1]) / log(size / before[0]):8.2f}"
        before = size, own
        yield f"{what:24}{size:8,}{spent:8.2f} s{memory:7.0f} MB{power}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--most", type=int, default=10_000, help="marks at most without stock; with it a tenth")
    most = parser.parse_args().most
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copy(ROOT / "gallery" / "saws" / "hinged.toml", folder / "saw.toml")
        checked(folder, ring(4))
        start, _ = checked(folder, ring(4))
        jobs = [(n, job_text(n)) for n in SIZES if n <= most]
        stocked = [(n, with_stock(text)) for n, text in jobs if n <= most / 10]
        rings = [(n, ring(n)) for n in SIZES[:2]]
        for what, texts in (("marks", jobs), ("marks with stock", stocked), ("sides of a ring", rings)):
            for line in lines(folder, what, texts, start):
                print(line, flush=True)  # noqa: T201


if __name__ == "__main__":
    main()
