"""Benchmark of one call: `python -m tests.bench.calls_bench [--beside CHECKOUT]`.

Microseconds of processor time of one cut never asked before: `face` (area, perimeter, width, height), `Piece` with its
two cuts and five figures, `Saw.reach` on both shipped arms, and its travel with the largest and the mean contact. With
another checkout, such as a git worktree of an earlier commit, the same there and how many times faster it is here.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
SECTIONS: Final = ("FLAT 80x12", "RHS 80x40x3", "CHS 60.3x4", "IPE 200", "L 60x60x6", "UPN 100")
WHAT: Final = ("face", "piece", "reach, hinged", "reach, column", "travel, hinged", "travel, column")
ROUNDS: Final = 7


def best(run: Callable[[float], object], count: int, angles: list[float]) -> float:
    """Microseconds a call in the best of some rounds, every call with an angle of its own."""
    found = []
    for _ in range(ROUNDS):
        mine = [angles.pop() for _ in range(count)]
        begun = process_time()
        for angle in mine:
            run(angle)
        found.append((process_time() - begun) / count)
    return min(found) * 1e6


def times(root: Path) -> list[list[float]]:
    """Of each section what each call takes, by the package of the checkout that runs this."""
    import mitertool as mt

    arms = [mt.Saw.load(root / "gallery" / "saws" / f"{arm}.toml") for arm in ("hinged", "column")]
    angles = [45 - n * 1e-3 for n in range(12_000)]
    rows = []
    for section in map(mt.section, SECTIONS):

        def face(m: float, section: mt.Section = section) -> object:
            made = mt.Cut(m, 3.0).face(section)
            return made.area, made.perimeter, made.width, made.height

        def piece(m: float, section: mt.Section = section) -> object:
            made = mt.Piece(section, 1000.0, mt.Cut(m), mt.Cut(-m / 2))
            return made.long_point, made.short_point, made.centerline, made.overall, made.mass

        def reach(m: float, saw: mt.Saw, section: mt.Section = section) -> object:
            return saw.reach(section, mt.Cut(m))

        def travel(m: float, saw: mt.Saw, section: mt.Section = section) -> object:
            made = saw.reach(section, mt.Cut(m))
            return made.travel, made.largest_contact, made.mean_contact

        row = [best(face, 100, angles), best(piece, 100, angles)]
        row += [best(lambda m, saw=saw: reach(m, saw), 10, angles) for saw in arms]  # type: ignore[misc]
        row += [best(lambda m, saw=saw: travel(m, saw), 5, angles) for saw in arms]  # type: ignore[misc]
        rows.append(row)
    return rows


def at(root: Path) -> list[list[float]]:
    command = [sys.executable, __file__, "--at", str(root)]
    environment = {**os.environ, "PYTHONPATH": str(root)}
    found: list[list[float]] = json.loads(
        subprocess.run(command, env=environment, capture_output=True, check=True).stdout
    )
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--beside", type=Path)
    parser.add_argument("--at", type=Path, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.at:
        json.dump(times(asked.at), sys.stdout)
        return
    here = at(ROOT)
    there = at(asked.beside) if asked.beside else None
    print(f"{'us':12}" + "".join(f"{what:>22}" for what in WHAT))  # noqa: T201
    for i, name in enumerate(SECTIONS):
        cells = [f"{mine:.0f}" + (f" ({there[i][k] / mine:.1f} x)" if there else "") for k, mine in enumerate(here[i])]
        print(f"{name:12}" + "".join(f"{cell:>22}" for cell in cells))  # noqa: T201


if __name__ == "__main__":
    main()
