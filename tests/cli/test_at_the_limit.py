"""At exactly the tolerance past the stop of an arm `check`, `nest` and `cut --saw` give one verdict.

The arm goes to 60 degrees, the tolerance is 1e-7: an angle typed so is made, however it is reached. By its slope,
tan 60.0000001, it comes back with an error of the 15th figure, which is no other angle.
"""

from __future__ import annotations

from collections.abc import Callable
from math import atan, degrees, radians, tan
from pathlib import Path

import pytest

from mitertool.quantity.compare import reaches
from tests.cli.conftest import Said
from tests.cli.test_on_no_bar import write
from tests.job.test_bars_as_planned import TILTING

Call = Callable[..., Said]

PAST = [("60", True), ("60.00000005", True), ("60.0000001", True), ("60.0000002", False), ("60.000001", False)]


@pytest.mark.parametrize(("given", "made"), PAST)
@pytest.mark.parametrize("sign", ["", "-"])
@pytest.mark.parametrize("section", ["SHS 40x40x3", "RHS 40x80x3", "FLAT 80x12"])
def test_check_bars_and_cut_agree(call: Call, tmp_path: Path, section: str, sign: str, given: str, made: bool) -> None:
    tables = (
        f'[[stock]]\nsection = "{section}"\nlength = 6000\n'
        f'[[piece]]\nmark = "A"\nsection = "{section}"\nlength = 900\nleft = {sign}{given}\n'
    )
    job = write(tmp_path, tables, saw=TILTING)
    saw = str(tmp_path / "saw.toml")
    cut = ("cut", section, f"--miter={sign}{given}", "--saw", saw)
    calls = (("check", job), ("nest", job), (*cut, "--end", "left"), (*cut, "--end", "right"))
    assert [call(*one).code for one in calls] == [0 if made else 1] * len(calls)


@pytest.mark.parametrize("most", range(1, 90))
@pytest.mark.parametrize("side", [1, -1])
def test_an_angle_by_its_slope_is_the_same_angle(most: int, side: int) -> None:
    """The judge gets an angle that was typed, or one that came by its slope; `most` is a whole number of degrees."""
    typed = side * float(f"{most}.0000001")
    by_slope = degrees(atan(tan(radians(typed))))
    assert reaches(typed, -most, most)
    assert reaches(by_slope, -most, most)
    assert not reaches(side * float(f"{most}.0000002"), -most, most)
