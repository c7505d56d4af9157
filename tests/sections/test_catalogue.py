"""Names of sections as mill tags, drawings and people write them, and what comes of a wrong one.

Sizes are those that the names state; inch sizes by 25.4.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import mitertool as mt
from mitertool.sections.catalogue import families, find, profile_paths
from mitertool.sections.grades import density

FOUND = [
    ("RHS 80x40x3", "RHS 80x40x3", 40, 80),
    ("rhs80x40x3", "RHS 80x40x3", 40, 80),
    ("RHS 80 x 40 x 3", "RHS 80x40x3", 40, 80),
    ("RHS 80×40×3", "RHS 80x40x3", 40, 80),
    ("  Rhs  80X40X3.0 ", "RHS 80x40x3", 40, 80),
    ("80x40x3 RHS", "RHS 80x40x3", 40, 80),
    ("RHS 40x80x3", "RHS 80x40x3", 80, 40),
    ("SHS 50x50x3", "SHS 50x50x3", 50, 50),
    ("SHS 50x3", "SHS 50x50x3", 50, 50),
    ("L 50x50x5", "L 50x50x5", 50, 50),
    ("L50x5", "L 50x50x5", 50, 50),
    ("L 100x65x8", "L 100x65x8", 65, 100),
    ("L 65x100x8", "L 100x65x8", 100, 65),
    ("IPE 200", "IPE 200", 100, 200),
    ("ipe-200", "IPE 200", 100, 200),
    ("IPE200", "IPE 200", 100, 200),
    ("HEA 100", "HEA 100", 100, 96),
    ("UPN 100", "UPN 100", 50, 100),
    ("FLAT 50x10", "FLAT 50x10", 50, 10),
    ("flat 10 by 50", "FLAT 50x10", 10, 50),
    ("ROUND 20", "ROUND 20", 20, 20),
    ("round 20 mm", "ROUND 20", 20, 20),
    ("ROUND 1", "ROUND 1", 25.4, 25.4),
    ("FLAT 1-1/2x1/4", "FLAT 1-1/2x1/4", 38.1, 6.35),
    ("1 1/2 x 1/4 flat", "FLAT 1-1/2x1/4", 38.1, 6.35),
    ("HSS4x2x1/4", "HSS4x2x1/4", 50.8, 101.6),
    ("hss 4 X 2 X .25", "HSS4x2x1/4", 50.8, 101.6),
    ("PIPE 2 SCH 40", "PIPE 2 SCH 40", 60.325, 60.325),
    ('2" pipe sch 40', "PIPE 2 SCH 40", 60.325, 60.325),
    ("NPS 2 schedule 40", "PIPE 2 SCH 40", 60.325, 60.325),
    ("W8x31", "W8x31", None, 203.2),
]


@pytest.mark.parametrize(("given", "name", "width", "height"), FOUND, ids=[row[0] for row in FOUND])
def test_found(given: str, name: str, width: float | None, height: float) -> None:
    section = mt.section(given)
    assert section.name == name
    assert section.height == pytest.approx(height)
    if width is not None:
        assert section.width == pytest.approx(width)
    assert section.source


@pytest.mark.parametrize(
    ("given", "standard", "outer_radius"),
    [
        ("RHS 80x40x4", "EN 10219", 8),
        ("RHS 80x40x4 EN 10219", "EN 10219", 8),
        ("RHS 80x40x4 EN 10210", "EN 10210", 6),
        ("rhs 80x40x4 en10210-2", "EN 10210", 6),
        ("EN 10210-2:2006 RHS 80x40x4", "EN 10210", 6),
        ("SHS 100x100x5", "EN 10219", 10),
        ("SHS 100x100x5 EN 10210", "EN 10210", 7.5),
    ],
)
def test_a_bare_hollow_section_is_cold_formed(given: str, standard: str, outer_radius: float) -> None:
    """Outer radii by the annexes: 2 x wall cold-formed up to 6 mm, 1.5 x wall hot-finished."""
    section = mt.section(given)
    assert section.source.startswith(standard)
    assert dict(section.dimensions)["outer radius"] == pytest.approx(outer_radius)


def test_the_other_standard_stays_in_the_name_where_the_bare_name_means_another_bar() -> None:
    """Other corners, so another bar: the two may not share a stock length. CHS 60.3x3.2 is in one table only."""
    hot = mt.section("rhs 80x40x4 en10210-2")
    assert hot.name == "RHS 80x40x4 EN 10210"
    assert mt.section(hot.name) == hot
    assert mt.section("RHS 40x80x4 EN 10210").name == hot.name
    assert mt.section("RHS 80x40x4 EN 10219").name == "RHS 80x40x4"
    assert mt.section("CHS 60.3x3.2").name == "CHS 60.3x3.2"


def test_an_angle_named_the_other_way_round_lies_on_its_long_leg() -> None:
    """The same bar with its heel still at y = 0, z = 0: thickness and radii of the row (8, 10 and 5)."""
    assert mt.section("L 100x65x8").centroid == pytest.approx(mt.angle(65, 100, 8, 10, 5).centroid)
    lying = mt.section("L 65x100x8")
    assert lying.centroid == pytest.approx(mt.angle(100, 65, 8, 10, 5).centroid)
    assert lying.turned


def test_a_tube_named_the_other_way_round_is_the_same_bar() -> None:
    assert mt.section("RHS 40x80x3").area == pytest.approx(mt.section("RHS 80x40x3").area)


@pytest.mark.parametrize(
    ("given", "nearest"),
    [
        ("SHS 50x50x7", "SHS 50x50x5"),
        ("RHS 80x41x3", "RHS 80x40x3"),
        ("IPE 210", "IPE 220"),
        ("UPN 105", "UPN 100"),
        ("SHS 100x100", "SHS 100x100x5"),
        ("SHS 50x50", "SHS 50x50x3, "),
        ("L 50x50x7", "L 50x50x5"),
    ],
)
def test_an_unknown_size_names_the_nearest(given: str, nearest: str) -> None:
    with pytest.raises(mt.UnknownName, match=rf"section: found '{given}'; the nearest names are .*{nearest}") as caught:
        mt.section(given)
    assert nearest.rstrip(", ") in caught.value.choices


@pytest.mark.parametrize(
    ("given", "first"), [("60x40x3", "RHS 60x40x3"), ("50x50", "SHS 50x50x"), ("42.4x3.2", "CHS ")]
)
def test_numbers_without_a_family_name_those_that_begin_with_them(given: str, first: str) -> None:
    with pytest.raises(mt.UnknownName) as caught:
        mt.section(given)
    assert caught.value.choices[0].startswith(first) and given in caught.value.choices[0]


@pytest.mark.parametrize("given", ["quoin", "??", "X"])
def test_an_unknown_family_names_the_families(given: str) -> None:
    with pytest.raises(mt.UnknownName, match=r"the families are .*CHS.*IPE.*RHS"):
        mt.section(given)


@pytest.mark.parametrize("given", ["", "   ", "\n"])
def test_no_name(given: str) -> None:
    with pytest.raises(mt.BadInput, match=r"section: found ''|section: found ' "):
        mt.section(given)


def test_all_names_of_the_catalogue_find_their_own_row() -> None:
    """Names shared by both hollow-section standards lead to the cold-formed row."""
    for files in families().values():
        for file in files:
            for name in file.names:
                entry = find(name)
                assert entry.row["name"] == name
                assert entry.file.standard == file.standard or file.standard.startswith("EN 10210")


# A shop's own folder


OWN = """
format = 1
family = "SHELF"
title = "Shelf angle"
standard = "shop standard"
shape = "angle"
units = "mm"
columns = ["name", "width", "height", "thickness", "root_radius", "toe_radius"]
rows = [["SHELF 40x30x4", 40, 30, 4, 5, 2.5]]
"""


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("MITERTOOL_PROFILES", str(tmp_path))
    file = tmp_path / "SHELF-SHOP.toml"
    file.write_text(OWN, encoding="utf-8")
    return file


def test_a_shop_adds_its_own_sections(own: Path) -> None:
    assert own in profile_paths()
    section = mt.section("shelf 40x30x4")
    assert (section.width, section.height, section.source) == (40, 30, "shop standard")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("format = 1", "format = 2", r"SHELF-SHOP.toml: format: found 2; this program reads format 1"),
        ('shape = "angle"', 'shape = "cube"', r"SHELF-SHOP.toml: shape: found 'cube'; allowed: angle, .*tee"),
        ('units = "mm"\n', "", r"SHELF-SHOP.toml: key: found 'no units'"),
        (", 5, 2.5]", ", 5]", r"SHELF-SHOP.toml: row: .* needs 6 values"),
        ("[[", "[", r"SHELF-SHOP.toml: line 9: column 44: found 'rows = .*'; is not TOML: "),
        ('4", 40,', '4", inf,', r"SHELF-SHOP.toml: SHELF 40x30x4: width: found inf; needs a number"),
        ('4", 40,', f'4", 1{"0" * 400},', r"SHELF-SHOP.toml: SHELF 40x30x4: width: found 10+…; needs a number"),
    ],
)
def test_a_bad_file_is_refused_by_name(own: Path, old: str, new: str, says: str) -> None:
    text = OWN.replace(old, new)
    assert text != OWN
    own.write_text(text, encoding="utf-8")
    with pytest.raises(mt.BadInput, match=says):
        mt.section("SHELF 40x30x4")


# Grades


@pytest.mark.parametrize(
    ("grade", "expected"),
    [("", 7850), ("S235JR", 7850), ("A500 Gr. C", 7850), ("1.4301", 7900), ("316L", 8000), ("en aw-6060 T66", 2700)],
)
def test_density_by_grade(grade: str, expected: float) -> None:
    """Steel EN 10365; stainless EN 10088-1, aluminium EN 1999-1-1 (MEMORY)."""
    assert density(grade) == expected
