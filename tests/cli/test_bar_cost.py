"""Bars without a price count by their length: that is told as a length in the units of the reader; JSON stays mm.

By hand: 288 in is 24 ft; two bars of 24 ft are 576 in, 48', 14630.4 mm.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import attrs
import pytest

from mitertool.nest.plan import Alternative
from mitertool.packet.bar_cost import BarCost
from mitertool.packet.tables import way_rows
from tests.cli.conftest import Said

Call = Callable[..., Said]


def write(folder: Path, more: str = "", units: str = "in") -> str:
    """Two pieces of 20 ft, each on a bar of 24 ft."""
    (folder / "job.toml").write_text(
        f'[job]\nname = "Job"\nunits = "{units}"\n[nest]\nkerf = "1/16"\n'
        f'[[stock]]\nsection = "SHS 40x40x3"\nlength = "24\'"\n{more}\n'
        '[[piece]]\nmark = "A"\nsection = "SHS 40x40x3"\nlength = "20\'"\nquantity = 2\n'
    )
    return str(folder / "job.toml")


@pytest.mark.parametrize(("units", "both"), [("in", '576.000"'), ("ft-in", "48'-0\""), ("mm", "14630.4")])
def test_steel_is_told_as_a_length(call: Call, tmp_path: Path, units: str, both: str) -> None:
    job = write(tmp_path)
    out = call("nest", job, "--units", units).out
    assert (
        f"steel {both}; cut bar by bar, no plan below {both}: proved best; tip to tip, first fit, would take {both}"
        in out
    )
    assert "cost" not in out


def test_json_stays_in_mm(call: Call, tmp_path: Path) -> None:
    said = call("nest", write(tmp_path), "--json").json
    assert said["cost"] == pytest.approx(14630.4)
    assert said["lower_bound"] == pytest.approx(14630.4)


def test_other_ways_have_one_column_of_steel(call: Call, tmp_path: Path) -> None:
    out = call("nest", write(tmp_path), "--compare").out
    (head,) = [line for line in out.splitlines() if "recuts" in line]
    assert head.split() == [
        "cuts",
        "recuts",
        "swings",
        "rolls",
        "loads",
        "steel",
    ]  # no rates, so no minutes and no money
    assert "14630" not in out


def test_steel_with_a_remnant_that_costs_nothing_is_new_steel(call: Call, tmp_path: Path) -> None:
    """One piece from a remnant of 21 ft, the other from a bar of 24 ft, 288 in; 45 ft, 540 in, in all."""
    remnant = '[[stock]]\nsection = "SHS 40x40x3"\nlength = "21\'"\nquantity = 1\ncost = 0'
    out = call("nest", write(tmp_path, remnant), "--compare").out
    assert 'new steel 288.000"; cut bar by bar, no plan below 288.000"' in out
    (chosen,) = [line for line in out.splitlines() if line.startswith("chosen")]
    assert chosen.split()[-2:] == ['540.000"', '288.000"']


def test_a_price_is_told_as_it_is(call: Call, tmp_path: Path) -> None:
    out = call("nest", write(tmp_path, "cost = 31.5"), "--compare").out
    assert "cost 63; cut bar by bar, no plan below 63: proved best; tip to tip, first fit, would cost 63" in out
    (head,) = [line for line in out.splitlines() if "recuts" in line]
    assert head.split()[5:7] == ["steel", "cost"]


@pytest.mark.parametrize(("currency", "title"), [("EUR", "in all, EUR"), ("", "in all, in the unit of the rates")])
def test_what_all_takes_is_told_with_what_it_is_counted_in(currency: str, title: str) -> None:
    """12 for steel and half an hour at 60 are 42; a column that tells nothing of any way is left out."""
    one = Alternative("chosen", "bar by bar", 4, 0, 2, 1, 0, 1, 6000.0, 12.0, 30.0, 42.0)
    head, row = way_rows([one], BarCost(True, "mm", currency))
    names = ("", "cuts", "recuts", "swings", "rolls", "loads", "steel", "cost", "minutes", title)
    assert head == names
    assert row == ("chosen", "4", "0", "2", "1", "1", "6000", "12", "30", "42.00")
    (bare, _) = way_rows([attrs.evolve(one, minutes=None, money=None)], BarCost(True, "mm", currency))
    assert bare == head[:-2]


def test_progress_tells_lengths_too() -> None:
    """30784.8 mm is 1212 in, 25400 mm 1000 in; a bound is rounded down."""
    assert BarCost(False, "in").so_far(30784.8, 25400) == 'best so far 1212.000", no plan below 1000.000"'
    assert BarCost(False, "mm").so_far(6000, 5999.96) == "best so far 6000, no plan below 5999.9"
    assert BarCost(True, "in").so_far(63, 31.5) == "best so far 63, no plan below 31.5"
