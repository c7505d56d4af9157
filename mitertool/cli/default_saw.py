"""The shop's default saw: a saw file that is named once and serves every command; knows where it may be named."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from attrs import frozen
from platformdirs import user_config_path

from mitertool.base.speech import complain
from mitertool.words import phrase

NO_SAW: Final = "none"
"""The word by which `--saw` or the environment asks for no saw at all."""

_NAMED: Final = "MITERTOOL_SAW"


@frozen
class DefaultSaw:
    """A saw file, and who names it: a variable, or "" where it is the default."""

    file: Path
    by: str

    @property
    def named_by(self) -> str:
        """Who names it, in words."""
        return self.by or phrase("screen.default")


def default_saw() -> DefaultSaw | None:
    """The saw file that MITERTOOL_SAW names, or else saw.toml in the user's own folder; None where there is neither."""
    named = os.environ.get(_NAMED, "")
    if named:
        return None if named == NO_SAW else DefaultSaw(Path(named).expanduser(), _NAMED)
    file = user_config_path("mitertool", appauthor=False) / "saw.toml"
    return DefaultSaw(file, "") if file.is_file() else None


def tell(found: DefaultSaw) -> None:
    """Say on standard error that the default saw serves: nobody named it in the command."""
    complain(phrase("screen.default-saw", file=found.file, by=found.named_by, none=NO_SAW))
