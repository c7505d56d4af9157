"""Benchmark of start-up: `python -m tests.bench.startup_bench [--rounds N] [COMMAND ...]`.

Whole processes in turn, a command and `python -c "import ..."` of what no such program does without: typer for the
program itself, numpy and typer for a command. Printed: the middle ratio of processor seconds pair by pair, the ratio
that is promised, and the middle of both in ms. Modules are compiled before by a round that is not counted.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path
from statistics import median
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
SAW: Final = "gallery/saws/hinged.toml"
TYPER: Final = "import typer"
BOTH: Final = "import numpy, typer"
PROGRAM: Final = 1.2
COMMAND: Final = 1.6
JOB: Final = 2.0

FIRST: Final = ("--length", "1200", "--left", "45", "--right", "45", "--long", "1201.5", "--short", "1118.5")
FRAMED: Final = ("--section", "RHS 80x40x3", "--width", "1200", "--height", "800", "--measured", "outside")
CASES: Final[dict[str, tuple[tuple[str, ...], str, float]]] = {
    "--version": (("--version",), TYPER, PROGRAM),
    "--help": (("--help",), TYPER, PROGRAM),
    "cut": (("cut", "RHS 80x40x3", "--miter", "45"), BOTH, COMMAND),
    "cut --json": (("cut", "RHS 80x40x3", "--miter", "45", "--json"), BOTH, COMMAND),
    "cut --saw": (("cut", "RHS 80x40x3", "--miter", "45", "--saw", SAW), BOTH, COMMAND),
    "piece": (("piece", "L 50x50x5", "--length", "1200", "--left", "45"), BOTH, COMMAND),
    "piece --saw": (("piece", "L 50x50x5", "--length", "1200", "--left", "45", "--saw", SAW), BOTH, COMMAND),
    "corner": (("corner", "RHS 80x40x3"), BOTH, COMMAND),
    "section": (("section", "IPE 200"), BOTH, COMMAND),
    "section --like": (("section", "--like", "80x60"), BOTH, COMMAND),
    "schema job": (("schema", "job"), BOTH, COMMAND),
    "schema saw": (("schema", "saw"), BOTH, COMMAND),
    "schema plan": (("schema", "plan"), BOTH, COMMAND),
    "first-piece": (("first-piece", "RHS 80x40x3", *FIRST, "--saw", SAW), BOTH, COMMAND),
    "saw check": (("saw", "check", SAW), BOTH, COMMAND),
    "frame": (("frame", "rectangle", *FRAMED), BOTH, JOB),
    "check": (("check", "gallery/boathouse-gate/job.toml"), BOTH, JOB),
}


def taken(command: list[str]) -> float:
    """Processor seconds of a whole process."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    child = subprocess.Popen(command, cwd=ROOT, env=kept, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise SystemExit(f"{command} failed")
    return usage.ru_utime + usage.ru_stime


def told(name: str, rounds: int) -> str:
    """A line of the table."""
    arguments, imports, most = CASES[name]
    ours, anchor = [sys.executable, "-m", "mitertool", *arguments], [sys.executable, "-c", imports]
    pairs = [(taken(ours), taken(anchor)) for _ in range(rounds + 1)][1:]
    middle, bare = (median(pair[i] for pair in pairs) * 1000 for i in (0, 1))
    return f"{name:16}{median(a / b for a, b in pairs):6.2f}{most:6.1f}{middle:8.0f}{bare:8.0f}  {imports}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("commands", nargs="*", metavar="COMMAND")
    parser.add_argument("--rounds", type=int, default=9)
    asked = parser.parse_args()
    print(f"{'':16}{'ratio':>6}{'most':>6}{'ms':>8}{'bare ms':>8}")  # noqa: T201
    for name in asked.commands or CASES:
        print(told(name, asked.rounds), flush=True)  # noqa: T201


if __name__ == "__main__":
    main()
