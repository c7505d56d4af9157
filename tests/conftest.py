"""Every test runs as for a user who has no saw and no rack of his own, in this process and in those that it starts."""

from __future__ import annotations

import gc
import os
import tempfile
from pathlib import Path

os.environ["MITERTOOL_SAW"] = "none"
os.environ["MITERTOOL_RACK"] = str(Path(tempfile.gettempdir()) / f"mitertool-tests-{os.getpid()}" / "rack.sqlite")


def pytest_collection_finish() -> None:
    """What was collected stays to the end: the collector of cycles need not look at it again and again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(10_000, 20, 20)
