"""Every test runs as for a user who has no saw and no rack of his own, in this process and in those that it starts."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

os.environ["MITERTOOL_SAW"] = "none"
os.environ["MITERTOOL_RACK"] = str(Path(tempfile.gettempdir()) / f"mitertool-tests-{os.getpid()}" / "rack.sqlite")
