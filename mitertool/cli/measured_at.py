"""Where the length of a piece is measured, as an option; knows piece."""

from __future__ import annotations

from typing import Annotated

from mitertool.cli.commands import choice
from mitertool.piece import AT

AtOption = Annotated[str, choice("option.at", AT)]
