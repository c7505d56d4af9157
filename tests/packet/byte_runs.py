"""Processes that make all that is written and answered (tests/packet/all_bytes.py), and the files that they made."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]


def begun(work: Path, settings: Mapping[str, str], names: tuple[str, ...], mask: int) -> subprocess.Popen[bytes]:
    """Such a process, in a new folder and with these variables of the environment."""
    work.mkdir(parents=True)
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **settings}
    python, gallery = settings.get("PYTHON", sys.executable), settings.get("GALLERY", str(ROOT / "gallery"))
    command = [python, "-m", "tests.packet.all_bytes", gallery, *names]
    return subprocess.Popen(command, cwd=work, env=environment, umask=mask, stdout=subprocess.DEVNULL)


def files_of(work: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {path.relative_to(work).as_posix(): path.read_bytes() for path in work.rglob("*") if path.is_file()}
