"""What can hurt is said beside everything that is set on a saw: on the screen, in JSON, on labels and in sketches.

The words are the usual ones of the trade (common practice, no source); where a saw is invented every answer says so.
"""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import ezdxf.filemanagement
import pytest
from pypdf import PdfReader

from mitertool.cli.main import run
from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files

ROOT = Path(__file__).resolve().parents[2]
SAW = str(ROOT / "gallery" / "saws" / "hinged.toml")
JOB = str(ROOT / "gallery" / "boathouse-gate" / "job.toml")
NO_SAW = str(ROOT / "gallery" / "lantern-house" / "job.toml")
TUBE = "RHS 80x40x3"
PIECE = (TUBE, "--length", "1200", "--left", "45", "--right", "45")
FRAME = ("--section", TUBE, "--width", "900", "--height", "700", "--measured", "outside")

AT_A_SAW = {
    "cut": ("cut", TUBE, "--miter", "45", "--saw", SAW),
    "piece": ("piece", *PIECE, "--saw", SAW),
    "frame": ("frame", "rectangle", *FRAME, "--saw", SAW),
    "check": ("check", JOB),
}
ALWAYS = {
    "nest": ("nest", NO_SAW),
    "first-piece": ("first-piece", *PIECE, "--saw", SAW, "--long", "1200", "--short", "1120"),
    "saw check": ("saw", "check", SAW),
}


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert run(arguments) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("name", [*AT_A_SAW, *ALWAYS])
def test_the_screen_and_the_json_say_what_goes_first(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = {**AT_A_SAW, **ALWAYS}[name]
    for words in (said(capsys, *arguments), json.loads(said(capsys, *arguments, "--json"))["caution"]):
        flat = " ".join(words.split())
        assert "Manual, local codes and qualified people go before" in flat
        assert "with the motor off" in flat


@pytest.mark.parametrize("name", AT_A_SAW)
def test_an_invented_saw_is_said_to_be_one(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "no machine has these figures" in " ".join(said(capsys, *AT_A_SAW[name]).split())


def test_a_bar_that_is_rolled_is_held_first(capsys: pytest.CaptureFixture[str]) -> None:
    """The saw swings to the feed side only: a right 45 swings +45 as it lies, a right -45 asks for half a turn."""
    rolled, plain = (
        " ".join(said(capsys, "cut", TUBE, "--miter", miter, "--saw", SAW).split()) for miter in ("-45", "45")
    )
    assert "hold it by the shop's rules for loads" in rolled
    assert "rules for loads" not in plain


def test_a_drawn_saw_and_a_drawn_setting_carry_it(tmp_path: Path) -> None:
    sheets = {"saw.pdf": ("saw", "draw", SAW), "cut.pdf": ("cut", TUBE, "--miter", "45", "--saw", SAW)}
    for name, arguments in sheets.items():
        assert run([*arguments, "--sketch", str(tmp_path / name)]) == 0
        text = " ".join(page.extract_text() for page in PdfReader(tmp_path / name).pages)
        assert "Manual, local codes and qualified people" in " ".join(text.split())


MANY = """
format = 1
[job]
name = "Many"
[[piece]]
mark = "A"
section = "SHS 40x40x3"
length = 500
quantity = 61
"""
SENTENCE = "Manual, local codes and qualified people go before this sheet. Prove clearance with the motor off."


def words_of(path: Path) -> str:
    """The words of a drawing in the order in which they stand, on one line."""
    if path.suffix == ".pdf":
        words = " ".join(page.extract_text() for page in PdfReader(path).pages)
    elif path.suffix == ".dxf":
        words = " ".join(text.dxf.text for text in ezdxf.filemanagement.readfile(path).modelspace().query("TEXT"))
    else:
        words = " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", path.read_text(encoding="utf-8")))
    return " ".join(words.split())


@pytest.mark.parametrize("kind", ["dxf", "svg", "pdf"])
def test_a_drawn_frame_carries_it(tmp_path: Path, kind: str) -> None:
    for name, saw in (("plain", ()), ("sawn", ("--saw", SAW))):
        path = tmp_path / f"{name}.{kind}"
        assert run(["frame", "rectangle", *FRAME, *saw, "--sketch", str(path)]) == 0
        assert SENTENCE in words_of(path)
        assert ("no machine has these figures" in words_of(path)) is bool(saw)


@pytest.mark.parametrize("form", ["a4-24", "a4-14", "letter-30", "letter-20"])
def test_every_sheet_of_labels_carries_it(tmp_path: Path, form: str) -> None:
    """Sheets part on the floor: the first label of each is the job's, and no piece loses its own by that."""
    (tmp_path / "job.toml").write_text(MANY, encoding="utf-8")
    files = packet_files(solve(load(tmp_path / "job.toml")), Options(labels=form))
    sheets = [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(files["labels.pdf"])).pages]
    assert len(sheets) == -(-61 // (int(form.split("-")[1]) - 1))
    for number, sheet in enumerate(sheets, 1):
        assert SENTENCE in sheet
        assert "Cut ends are sharp" in sheet
        assert f"Sheet {number} of {len(sheets)}" in sheet
    assert sum(sheet.count("long point") for sheet in sheets) == 61


def test_every_file_of_a_packet_carries_it() -> None:
    files = packet_files(solve(load(Path(JOB))), Options())
    plan = json.loads(files["plan.json"])
    assert plan["saw"]["invented"] is True
    assert "qualified people" in plan["caution"]
    first = " ".join(PdfReader(io.BytesIO(files["labels.pdf"])).pages[0].extract_text().split())
    assert "Cut ends are sharp" in first
    assert "qualified people" in first
    for name in (name for name in files if name.endswith(".dxf") and not name.endswith("all.dxf")):
        drawn = ezdxf.filemanagement.read(io.StringIO(files[name].decode(), newline=None))
        words = " ".join(text.dxf.text for text in drawn.modelspace().query("TEXT"))
        assert "qualified people" in words, name
