"""A job in letters beyond Latin, Greek and Cyrillic: its paper shows them, and no other job opens their font."""

from __future__ import annotations

import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from ezdxf.filemanagement import read as read_dxf
from pypdf import PdfReader

from tests.packet.jobs import ROOT

JOB = """
format = 1
[job]
name = "桟橋の門"
customer = "강교 제작소"
[[piece]]
mark = "支柱-1"
section = "SHS 50x50x3"
length = 800
left = 30
out = "溶接前に面取り"
"""

CODE = """
import sys
from mitertool.base import faces
from mitertool.cli.main import run
code = run(["packet", *sys.argv[1:]])
print("fonts", faces._open.cache_info().currsize)
sys.exit(code)
"""


def packet(job: Path, out: Path, hashes: str = "0") -> str:
    command = [sys.executable, "-c", CODE, str(job), "--out", str(out)]
    environment = {"PYTHONPATH": str(ROOT), "PYTHONHASHSEED": hashes}
    done = subprocess.run(command, env=environment, check=True, capture_output=True, text=True, encoding="utf-8")
    return done.stdout.splitlines()[-1]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("gate")
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    for hashes in ("0", "42"):
        assert packet(folder / "job.toml", folder / hashes, hashes) != "fonts 0"
    return folder


def words(file: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(file.read_bytes()), strict=True).pages)


def test_a_reader_of_the_paper_finds_every_letter(made: Path) -> None:
    sheet = words(made / "0" / "cut-sheet.pdf")
    assert [text for text in ("桟橋の門", "강교 제작소", "支柱-1") if text not in sheet] == []
    assert "支柱-1" in words(made / "0" / "labels.pdf")
    (sketch,) = (file for file in (made / "0" / "sketches").iterdir() if not file.stem.startswith("all"))
    with sketch.open(encoding="utf-8") as stream:
        texts = [text.dxf.text for text in read_dxf(stream).modelspace().query("TEXT")]
    assert any("支柱-1" in text for text in texts)


def test_the_same_job_gives_the_same_bytes(made: Path) -> None:
    one, other = ({file.name: file.read_bytes() for file in (made / way).rglob("*.*")} for way in ("0", "42"))
    assert one == other


def test_a_job_in_latin_letters_opens_no_font(tmp_path: Path) -> None:
    assert packet(ROOT / "gallery" / "hatch-frame" / "job.toml", tmp_path / "packet") == "fonts 0"
