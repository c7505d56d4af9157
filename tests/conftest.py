"""Every test runs as for a user who has named no saw of his own, in this process and in those that it starts."""

from __future__ import annotations

import os

os.environ["MITERTOOL_SAW"] = "none"
