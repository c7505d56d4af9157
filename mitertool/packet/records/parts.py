"""Of what a packet may be, for whoever writes it and whoever reads it back."""

from __future__ import annotations

from typing import Final

PARTS: Final = ("whole", "rest")
"""A whole job, or what remains of it when some is cut."""
