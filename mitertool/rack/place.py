"""Where the rack's file lies: where the shop says, or in the user's own data folder; knows platformdirs."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from platformdirs import user_data_path

NAMED: Final = "MITERTOOL_RACK"


def rack_file() -> Path:
    """The file that MITERTOOL_RACK names, or else rack.sqlite in the user's data folder."""
    named = os.environ.get(NAMED, "")
    return Path(named).expanduser() if named else user_data_path("mitertool", appauthor=False) / "rack.sqlite"
