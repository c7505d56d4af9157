"""Benchmark of the batch: `python -m tests.bench.batch_bench [--count N]`.

Random cuts, every output, beside three anchors timed in the same run: the bare trigonometry of the same angles (tan,
tan/cos and sqrt(1 + p^2 + q^2) in NumPy, median of rounds in turn), shapely (outline of 64 segments a turn mapped into
the plane, its area, length and bounds; some hundred cuts), and a plane cut of a solid bar by manifold3d where that is
installed. Printed: ratios; how many times faster a cut is than shapely and the solid kernel; time and memory of a
hundred million perimeters in one call.
"""

from __future__ import annotations

import argparse
import math
import resource
import subprocess
import sys
from collections.abc import Callable
from statistics import median
from time import perf_counter
from typing import Any, Final

import numpy as np

import mitertool as mt
from mitertool.geometry import Arc

SECTIONS: Final = {name: mt.section(name) for name in ("FLAT 80x12", "RHS 80x40x3", "CHS 60.3x4", "IPE 200")}
SECTIONS["RHS 80x40x3 at 30"] = mt.section("RHS 80x40x3").lay(30)
SECTIONS["IPE 200 at 30"] = mt.section("IPE 200").lay(30)
OTHERS: Final = {name: mt.section(name) for name in ("L 60x60x6", "UPN 100")}
ROUNDS: Final = 7
FEW: Final = 200
A_TURN: Final = 64
BIG: Final = (10_000, 10_000)


def taken(run: Callable[[], object]) -> float:
    begun = perf_counter()
    run()
    return perf_counter() - begun


def trig(miter: Any, bevel: Any) -> Any:
    x = np.radians(miter)
    p, q = np.tan(x), np.tan(np.radians(bevel)) / np.cos(x)
    return p, q, np.sqrt(1 + p * p + q * q)


def by_shapely(section: mt.Section, miters: Any, bevels: Any) -> float:
    """Seconds a cut."""
    from shapely import affinity
    from shapely.geometry import Polygon

    shell, *holes = ([point for segment in loop for point in points(segment)] for loop in section.region.loops)
    outline = Polygon(shell, holes)
    begun = perf_counter()
    for miter, bevel in zip(miters[:FEW], bevels[:FEW], strict=True):
        m, b = math.radians(miter), math.radians(bevel)
        p, t = math.tan(m), math.tan(b)
        face = affinity.affine_transform(outline, [1 / math.cos(m), p * t, 0.0, 1 / math.cos(b), 0, 0])
        skewed = affinity.affine_transform(outline, [p, t / math.cos(m), 0.0, 1.0, 0, 0])
        assert face.area > 0 and face.length > 0 and face.bounds and skewed.bounds
    return (perf_counter() - begun) / FEW


def points(segment: Any) -> list[tuple[float, float]]:
    if not isinstance(segment, Arc):
        return [segment.start]
    count = max(1, round(A_TURN * abs(segment.sweep) / (2 * math.pi)))
    return [segment.at(segment.begin + segment.sweep * i / count) for i in range(count)]


def by_solid(section: mt.Section, miters: Any, bevels: Any) -> float | None:
    """Seconds a cut of a bar as a solid by a wedge of another one; None without the kernel."""
    try:
        from manifold3d import CrossSection, Manifold
    except ImportError:
        return None
    loops = [[point for segment in loop for point in points(segment)] for loop in section.region.loops]
    bar = Manifold.extrude(CrossSection(loops), 2000.0)
    spent = 0.0
    for miter, bevel in zip(miters[:FEW], bevels[:FEW], strict=True):
        m, b = math.radians(miter), math.radians(bevel)
        block = Manifold.cube((5000.0, 5000.0, 2000.0), True).translate((0.0, 0.0, 1000.0)).rotate((bevel, miter, 0.0))
        block = block.translate((0.0, 0.0, 1000.0 + abs(math.tan(m)) + abs(math.tan(b))))
        begun = perf_counter()
        assert (bar - block).volume() > 0
        spent += perf_counter() - begun
    return spent / FEW


def told(name: str, section: mt.Section, miters: Any, bevels: Any) -> str:
    """One line of the table."""
    mt.batch.cuts(section, miters[:100], bevels[:100])
    pairs = [
        (taken(lambda: trig(miters, bevels)), taken(lambda: mt.batch.cuts(section, miters, bevels)))
        for _ in range(ROUNDS)
    ]
    a_cut = median(cuts for _, cuts in pairs) / len(miters)
    shapely, solid = by_shapely(section, miters, bevels), by_solid(section, miters, bevels)
    kernel = f"{solid / a_cut:10,.0f}" if solid else "         -"
    return f"{name:20} {median(c / t for t, c in pairs):6.2f} {shapely / a_cut:10,.0f} {kernel}  {a_cut * 1e9:6.0f} ns"


def pieces_told(name: str, section: mt.Section, lot: np.random.Generator, count: int) -> str:
    ends = [lot.uniform(-60, 60, count) for _ in range(4)]
    lengths = lot.uniform(500, 3000, count)
    pairs = [
        (
            taken(lambda: (trig(*ends[:2]), trig(*ends[2:]))),
            taken(lambda: mt.batch.pieces(section, lengths, *ends)),
        )
        for _ in range(ROUNDS)
    ]
    return f"{name:20} {median(c / t for t, c in pairs):6.2f}"


def big() -> None:
    miters, bevels = np.linspace(-60, 60, BIG[0])[:, None], np.linspace(-45, 45, BIG[1])
    spent = taken(lambda: mt.batch.cuts(mt.section("RHS 80x40x3"), miters, bevels, only=["perimeter"]))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
    print(f"1e8 perimeters in one call: {spent:.1f} s, {memory:.2f} GB")  # noqa: T201


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=1_000_000)
    parser.add_argument("--big", action="store_true", help="the hundred million alone")
    asked = parser.parse_args()
    if asked.big:
        big()
        return
    lot = np.random.default_rng(19)
    miters, bevels = lot.uniform(-60, 60, asked.count), lot.uniform(-60, 60, asked.count)
    print(f"{'cuts':20} {'x trig':>6} {'shapely x':>10} {'solid x':>10}  a cut")  # noqa: T201
    for name, section in (SECTIONS | OTHERS).items():
        print(told(name, section, miters, bevels))  # noqa: T201
    print(f"{'pieces':20} {'x trig of both ends':>6}")  # noqa: T201
    for name, section in (SECTIONS | OTHERS).items():
        print(pieces_told(name, section, lot, asked.count))  # noqa: T201
    subprocess.run([sys.executable, "-m", "tests.bench.batch_bench", "--big"], check=True)


if __name__ == "__main__":
    main()
