"""Whatever the parser of a broken DXF file ends in is told as a broken file."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.base.errors import BadInput
from mitertool.geometry import dxf_file

ENDS = [KeyError("0"), IndexError(), StopIteration(), ZeroDivisionError(), OverflowError(), AttributeError("dxf")]
FAULTS = [*ENDS, TypeError(), RecursionError()]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: type(fault).__name__)
def test_every_end_of_the_parser_is_a_line(fault: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object) -> None:
        raise fault

    monkeypatch.setattr(dxf_file, "readfile", broken)
    with pytest.raises(BadInput, match=r"gate\.dxf"):
        dxf_file.opened(tmp_path / "gate.dxf", None)
