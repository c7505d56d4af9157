"""The lettering of what Helvetica does not hold: a figure of DejaVu Sans; loads no drawing library."""

from __future__ import annotations

from typing import Final

CAP_HEIGHT: Final = 1493 / 2048
"""Height of a capital of DejaVu Sans in font sizes: yMax of the glyph H in the file, 2048 units an em."""
