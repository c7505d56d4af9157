"""A correction kept in a saw file: its date beside it, every comment and every other line as it was."""

from __future__ import annotations

import difflib
from datetime import date
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.saw.proof.correction import Kept, keep_offset, measurement
from mitertool.saw.proof.measured import Measured

DAY = date(2031, 2, 3)
FROM = "RHS 80x40x3, 1200 long-point, 45 and 45: long 1201.5, short 1118.5"
KEYS = ["+ offset = -0.25", "+ offset_date = 2031-02-03", f'+ offset_from = "{FROM}"']
FILE = """\
# The saw by the door. Measured by two people.
format = 1

[saw]
name = "door saw"      # as painted on it
kind = "hinged"
kerf = 1.3

[scale]                # read with the lamp on
square = 90
positive = "feed-side"
feed_side_most = 60    # to the stop
discharge_side_most = 0

# the vise was new last year
[vise]
fixed_jaw = "left"
"""


def kept(folder: Path, text: str, offset: float) -> tuple[mt.Saw, str]:
    path = folder / "saw.toml"
    path.write_text(text, encoding="utf-8")
    saw = keep_offset(path, offset, DAY, FROM).saw
    assert saw == mt.Saw.load(path)
    return saw, path.read_text(encoding="utf-8")


def changes(before: str, after: str) -> list[str]:
    """The lines that were added and taken away, each with its line end."""
    lines = difflib.ndiff(before.splitlines(keepends=True), after.splitlines(keepends=True))
    return [line for line in lines if line[0] in "+-"]


def test_a_first_correction(tmp_path: Path) -> None:
    saw, text = kept(tmp_path, FILE, -0.25)
    assert (saw.scale.offset, saw.scale.offset_date) == (-0.25, "2031-02-03")
    assert changes(FILE, text) == [f"{line}\n" for line in KEYS]
    assert text.index("discharge_side_most") < text.index("offset = ") < text.index("# the vise was new")


def test_a_second_correction_takes_the_place_of_the_first(tmp_path: Path) -> None:
    old = 'offset = 0.5 # by the first piece\noffset_date = 2030-01-01\noffset_from = "another"\n'
    first = FILE.replace("square = 90\n", f"square = 90\n{old}")
    saw, text = kept(tmp_path, first, 0.125)
    assert saw.scale.offset == 0.125
    both = f'[\n    "another",\n    "{FROM}",\n]'
    assert text == first.replace("0.5 #", "0.125 #").replace("2030-01-01", "2031-02-03").replace('"another"', both)
    assert saw.scale.offset_from == ("another", FROM)


@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["line feeds", "carriage returns"])
def test_an_earlier_measurement_is_not_kept_again(tmp_path: Path, ends: str) -> None:
    """A, B, C, then each of them again on other days: the offset stays that of the three."""
    path = tmp_path / "saw.toml"
    path.write_bytes(FILE.replace("\n", ends).encode())
    for measured, offset in (("A", -2.726), ("B", -0.495), ("C", -0.25)):
        assert keep_offset(path, offset, DAY, measured).saw.scale.offset == offset
    before = path.read_bytes()
    assert ends.join(["offset_from = [", '    "A",', '    "B",', '    "C",', "]", ""]).encode() in before
    for measured in "ABC":
        (said,) = keep_offset(path, -3.221, date(2031, 2, 4), measured).says
        assert said.startswith("nothing: this measurement was kept already and does not add up; offset -0.25 of ")
        assert "is the sum of 3, and it is one. Cut a new piece and measure that" in said
        assert path.read_bytes() == before


def test_an_offset_set_back_by_hand_begins_anew(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_text(FILE, encoding="utf-8")
    keep_offset(path, -0.5, DAY, "A")
    path.write_text(path.read_text(encoding="utf-8").replace("offset = -0.5", "offset = 0"), encoding="utf-8")
    scale = keep_offset(path, -0.25, DAY, "A").saw.scale
    assert (scale.offset, scale.offset_from) == (-0.25, ("A",))


def test_a_correction_too_large_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_text(FILE, encoding="utf-8")
    with pytest.raises(BadInput, match="set a scale that is further out anew"):
        keep_offset(path, 5.5, DAY, FROM)
    assert path.read_text(encoding="utf-8") == FILE


def test_what_is_no_saw_file_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_text("[job]\n", encoding="utf-8")
    with pytest.raises(BadInput):
        keep_offset(path, 0.5, DAY, FROM)
    assert path.read_text(encoding="utf-8") == "[job]\n"


def test_the_same_measurement_is_kept_once(tmp_path: Path) -> None:
    """Three times the same piece: it was cut before the first correction, so it tells nothing of the saw since."""
    path = tmp_path / "saw.toml"
    path.write_text(FILE, encoding="utf-8")
    keep_offset(path, -1.05, DAY, FROM)
    text = path.read_text(encoding="utf-8")
    for offset in (-2.1, -3.16):
        said = keep_offset(path, offset, date(2031, 2, 4), FROM)
        assert said.saw.scale.offset == -1.05
        assert said.says[0].startswith("nothing: this measurement was kept already and does not add up")
    assert path.read_text(encoding="utf-8") == text


def test_another_measurement_on_the_same_day_is_kept_with_a_word(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_text(FILE, encoding="utf-8")

    def again(measured: str, day: date) -> Kept:
        return keep_offset(path, -0.5, day, measured)

    assert len(again("one", DAY).says) == 1
    assert "right only for a piece cut with that correction" in again("two", DAY).says[1]
    assert len(again("three", date(2031, 2, 4)).says) == 1


def test_a_measurement_is_known_by_piece_and_readings() -> None:
    piece = mt.Piece(mt.section("RHS 80x40x3"), 1200, mt.Cut(45), mt.Cut(45), at="long-point")
    told = measurement(piece, Measured(1201.5, 1118.5))
    assert told == FROM
    assert measurement(piece, Measured(1201.5, 1118.5, 40.2)) == told
    assert measurement(piece, Measured(1201.5, 1118.6)) != told
    assert measurement(piece, Measured(1201.5, 1118.5, right=46)) == f"{told}, right 46"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (FILE, [f"{line}\n" for line in KEYS]),
        (FILE.replace("\n", "\r\n"), [f"{line}\r\n" for line in KEYS]),
        ("\ufeff" + FILE, [f"{line}\n" for line in KEYS]),
    ],
    ids=["line feeds", "carriage returns", "byte order mark"],
)
def test_everything_else_of_the_file_stays(tmp_path: Path, before: str, after: list[str]) -> None:
    path = tmp_path / "saw.toml"
    path.write_bytes(before.encode())
    keep_offset(path, -0.25, DAY, FROM)
    assert changes(before, path.read_bytes().decode()) == after


@pytest.mark.parametrize(
    "scale",
    [
        "scale = {square = 0, two_sided = true, feed_side_most = 60, discharge_side_most = 60}\n[saw]",
        "scale.square = 0\nscale.two_sided = true\nscale.feed_side_most = 60\nscale.discharge_side_most = 60\n[saw]",
    ],
    ids=["inline", "dotted"],
)
def test_a_scale_written_in_another_way(tmp_path: Path, scale: str) -> None:
    rest = 'name = "a"\nkind = "column"\nkerf = 1\n[vise]\nfixed_jaw = "left" # here\n'
    saw, text = kept(tmp_path, f"{scale}\n{rest}", 0.75)
    assert saw.scale.offset == 0.75
    assert text.endswith(rest)


def test_a_file_that_ends_with_its_scale(tmp_path: Path) -> None:
    head, _, rest = FILE.partition("[scale]")
    scale, _, tail = rest.partition("\n# the vise")
    before = f"{head}# the vise{tail}[scale]{scale.rstrip()}".replace("\n", "\r\n")
    path = tmp_path / "saw.toml"
    path.write_bytes(before.encode())
    assert keep_offset(path, -0.25, DAY, FROM).saw.scale.offset == -0.25
    after = path.read_bytes().decode()
    assert after.startswith(before)
    assert after.replace("\r\n", "").count("\n") == 0


def test_the_file_that_a_link_leads_to_is_written_with_its_own_permissions(tmp_path: Path) -> None:
    (tmp_path / "office").mkdir()
    real, link = tmp_path / "office" / "door.toml", tmp_path / "saw.toml"
    real.write_text(FILE, encoding="utf-8")
    real.chmod(0o640)
    link.symlink_to(Path("office") / "door.toml")
    assert keep_offset(link, -0.25, DAY, FROM).saw.scale.offset == -0.25
    assert link.is_symlink()
    assert link.readlink() == Path("office") / "door.toml"
    assert mt.Saw.load(real).scale.offset == -0.25
    assert real.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in (tmp_path / "office").iterdir()] == ["door.toml"]


def test_a_file_that_is_write_protected_stays(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_text(FILE, encoding="utf-8")
    path.chmod(0o444)
    with pytest.raises(BadInput, match="write-protected"):
        keep_offset(path, -0.25, DAY, FROM)
    assert path.read_text(encoding="utf-8") == FILE
