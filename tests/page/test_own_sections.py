"""Sections of the folder's own on the screen of one cut: of a job, of a drawing, of a profile file; sizes by hand."""

from __future__ import annotations

import shutil
from pathlib import Path

import ezdxf
import pytest

from mitertool.base.errors import BadInput, UnknownName
from mitertool.page.folder import Folder
from mitertool.page.own_sections import begun, section_of
from tests.page.conftest import Asks
from tests.page.test_cut import PART, rows_of

JOB = """
[job]
name = "Own"
units = "in"
[[section]]
name = "POST"
shape = "flat"
width = 3
height = 1
[[section]]
name = "OLD TUBE"
as_measured = "CHS 60.3x3.2"
diameter = "60.6 mm"
[[piece]]
mark = "A"
section = "no such section: the rest of the job is not asked"
"""

PROFILE = """
format = 1
family = "SLAB"
title = "Slabs of the shop"
standard = "none"
shape = "flat"
units = "mm"
columns = ["name", "width", "height"]
rows = [["SLAB 70x20", 70, 20]]
"""


def block(path: Path, wide: float, high: float) -> None:
    """A drawing of a rectangle in mm."""
    drawing = ezdxf.new(units=4)
    corners = [(0, 0), (wide, 0), (wide, high), (0, high)]
    drawing.modelspace().add_lwpolyline(corners, close=True)
    drawing.saveas(path)


@pytest.fixture
def folder(shop: Path) -> Folder:
    (shop / "own.toml").write_text(JOB, encoding="utf-8")
    (shop / "slabs.toml").write_text(PROFILE, encoding="utf-8")
    block(shop / "saws" / "block.dxf", 33, 44)
    return Folder.of(shop)


@pytest.mark.parametrize(
    ("name", "wide", "high"),
    [
        ("POST @ own.toml", 76.2, 25.4),
        ("POST", 76.2, 25.4),
        ("OLD TUBE", 60.6, 60.6),
        ("saws/block.dxf", 33, 44),
        ("SLAB 70x20 @ slabs.toml", 70, 20),
        ("RHS 80x40x3", 40, 80),
    ],
)
def test_a_section_of_the_folder_is_found_by_its_name(folder: Folder, name: str, wide: float, high: float) -> None:
    """3 in are 76.2 mm; the others have their sizes in their names."""
    found = section_of(folder, name)
    assert (found.width, found.height) == pytest.approx((wide, high), abs=1e-9)


def test_they_are_offered_before_the_catalogue(folder: Folder) -> None:
    assert begun(folder, "post") == ("POST @ own.toml", *begun(folder, "post")[1:])
    assert begun(folder, "o")[:2] == ("POST @ own.toml", "OLD TUBE @ own.toml")
    assert "saws/block.dxf" in begun(folder, "block")
    assert begun(folder, "rhs80x4")[0].startswith("RHS 80x4")


def test_a_name_of_two_files_asks_which(folder: Folder) -> None:
    shutil.copy(folder.root / "own.toml", folder.root / "other.toml")
    with pytest.raises(UnknownName) as refused:
        section_of(folder, "POST")
    assert refused.value.choices == ("POST @ other.toml", "POST @ own.toml")


@pytest.mark.parametrize("name", ["POST @ ../own.toml", "../block.dxf", "POST @ saws/none.toml", "NO @ own.toml"])
def test_no_other_file_and_no_other_name(folder: Folder, name: str) -> None:
    block(folder.root.parent / "block.dxf", 10, 10)
    with pytest.raises(BadInput):
        section_of(folder, name)


def test_a_drawing_that_lies_outside_is_not_read(folder: Folder) -> None:
    block(folder.root.parent / "block.dxf", 10, 10)
    text = '[[section]]\nname = "B"\nshape = "dxf"\nfile = "../block.dxf"\n[[piece]]\n'
    (folder.root / "outside.toml").write_text(text, encoding="utf-8")
    with pytest.raises(BadInput, match="only files of the folder"):
        section_of(folder, "B @ outside.toml")


def test_sketches_of_a_packet_are_no_sections(folder: Folder) -> None:
    packet = folder.root / "Gate-A"
    (packet / "sketches").mkdir(parents=True)
    (packet / ".mitertool-packet.json").write_text("{}", encoding="utf-8")
    block(packet / "sketches" / "A.dxf", 10, 10)
    assert folder.drawings() == ("saws/block.dxf",)


def test_what_was_written_anew_is_read_anew(folder: Folder) -> None:
    assert section_of(folder, "POST").width == pytest.approx(76.2)
    (folder.root / "own.toml").write_text(JOB.replace("width = 3", "width = 5"), encoding="utf-8")
    block(folder.root / "saws" / "block.dxf", 55, 44)
    assert section_of(folder, "POST").width == pytest.approx(127)
    assert section_of(folder, "saws/block.dxf").width == pytest.approx(55)


def test_the_screen_cuts_it_and_offers_its_name(asks: Asks, folder: Folder) -> None:
    """A bar 76.2 wide at 45 degrees is 76.2 shorter on its short side."""
    answer = asks().get("/cut", params={"section": "POST", "angle": "45", "saw": ""})
    assert rows_of(answer.text)["short point"] == "423.8"
    typed = asks().get("/cut", params={"section": "POS", "saw": ""}, headers=PART)
    assert '<option value="POST @ own.toml">' in typed.text


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ('[["SLAB 70x20", 70, 20]]', "5"),
        ("70, 20]]", "70]]"),
        ("70, 20]]", '70, "thick"]]'),
        ('"width", "height"', '"width", "area"'),
        ('shape = "flat"', 'shape = "blob"'),
        ('["name", "width", "height"]', "7"),
    ],
)
def test_a_bad_profile_file_is_told_and_stops_nothing(asks: Asks, folder: Folder, before: str, after: str) -> None:
    (folder.root / "slabs.toml").write_text(PROFILE.replace(before, after), encoding="utf-8")
    assert asks().get("/cut").status_code == 200
    with pytest.raises(BadInput, match=r"slabs\.toml"):
        section_of(folder, "SLAB 70x20 @ slabs.toml")
