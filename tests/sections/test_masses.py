"""What a bar is bought and lifted as, beside the mass of the material as drawn.

An American hollow section is drawn with its design wall; its published weight goes by the nominal one. AISC Steel
Construction Manual, tables of HSS dimensions and properties, nominal weight in lb/ft (from memory): HSS4x4x1/4 12.21,
HSS2x2x1/8 3.05, HSS6x4x1/4 15.62, HSS3.500x0.250 8.69. C3x4.1 weighs 4.1 lb/ft by its name, RHS 80x40x3 5.19 kg/m by
EN 10219-2. 1 lb/ft is 0.45359237 kg in 0.3048 m.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import mitertool as mt
from mitertool.nest import Allowance, Item, Stock, buying_list, solve
from mitertool.sections.own import as_measured
from tests.job.test_solve import HEAD, piece, solved, stock
from tests.packet.test_sheet_blocks import pages, run_together

LB_PER_FT = 0.45359237 / 0.3048
PUBLISHED = [("HSS4x4x1/4", 12.21), ("HSS2x2x1/8", 3.05), ("HSS6x4x1/4", 15.62), ("HSS3.500x0.250", 8.69)]


@pytest.mark.parametrize(("name", "pounds"), PUBLISHED)
def test_a_hollow_section_is_lifted_by_its_nominal_wall(name: str, pounds: float) -> None:
    section = mt.section(name)
    assert section.nominal_mass_per_metre / LB_PER_FT == pytest.approx(pounds, abs=0.0051)
    assert section.mass_per_metre < 0.95 * section.nominal_mass_per_metre


def test_a_printed_mass_goes_first() -> None:
    assert mt.section("C3x4.1").nominal_mass_per_metre == pytest.approx(4.1 * LB_PER_FT)
    assert mt.section("RHS 80x40x3").nominal_mass_per_metre == 5.19
    assert mt.section("RHS 80x40x3").lay(90).of_density(7900).nominal_mass_per_metre == pytest.approx(
        5.19 * 7900 / 7850
    )


def test_where_nothing_is_printed_it_is_the_material_as_drawn() -> None:
    """40 x 10 of steel, and a tube as it was measured: 7850 kg/m3."""
    assert mt.flat(40, 10).nominal_mass_per_metre == pytest.approx(3.14)
    measured = as_measured("RHS 80x40x3", {"wall": 2.9})
    assert measured.nominal_mass_per_metre == measured.mass_per_metre


def test_a_piece_is_lifted_by_the_nominal_mass() -> None:
    """Square ends, 1 m."""
    made = mt.Piece(mt.section("HSS4x4x1/4"), 1000)
    assert made.nominal_mass / LB_PER_FT == pytest.approx(12.21, abs=0.0051)
    assert made.mass == pytest.approx(made.section.area * 7850e-6)


def test_bars_are_bought_by_the_nominal_mass() -> None:
    tube = mt.section("HSS4x4x1/4")
    plan = solve([Item("A", mt.Piece(tube, 1000), 2)], [Stock(tube.name, 6096.0)], Allowance(2.0))
    (row,) = buying_list(plan)
    assert row.mass == pytest.approx(20 * 12.21 * 0.45359237, rel=5e-4)


def test_the_first_page_says_that_it_means_the_nominal_mass(tmp_path: Path) -> None:
    """Ten pieces of a metre, and a bar of 20 feet at 12.21 lb/ft: 244.3 lb, 110.8 kg."""
    text = HEAD + piece(section="HSS4x4x1/4", more="quantity = 5") + stock(section="HSS4x4x1/4", length=6096)
    said = run_together(pages(solved(tmp_path, text + "[nest]\nkerf = 2\n")))
    assert f"{5 * 12.213 * LB_PER_FT:.1f} kg nominal" in said
    assert "110.8 kg" in said
