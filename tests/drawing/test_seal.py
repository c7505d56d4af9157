"""A sealed drawing is known again, any change of it is seen, and readers of its format pass the seal over."""

from __future__ import annotations

import io
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
from matplotlib import image
from pypdf import PdfReader

from mitertool.drawing import THIN, Drawing, Line, Page, Text, dxf, pdf, png, svg
from mitertool.drawing.seal import is_sealed, sealed

DRAWN = Drawing([Line((0, 0), (40, 30), THIN), Text((1, 1), "A mitertool", 3.5)])
BARE = {
    ".dxf": dxf.write(DRAWN, "title"),
    ".pdf": pdf.write([Page(60, 60, DRAWN)], "title"),
    ".svg": svg.write(DRAWN),
    ".png": png.write(DRAWN),
}


@pytest.fixture(params=BARE)
def file(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A sealed drawing of every format."""
    path = tmp_path / f"drawn{request.param}"
    path.write_bytes(sealed(BARE[request.param], request.param))
    return path


def test_a_sealed_drawing_is_known_again_whatever_its_name(file: Path) -> None:
    assert is_sealed(file)
    assert is_sealed(file.rename(file.with_name(f"other{file.suffix.upper()}")))


def test_a_drawing_without_a_seal_is_not_ours(file: Path) -> None:
    file.write_bytes(BARE[file.suffix])
    assert not is_sealed(file)


@pytest.mark.parametrize("content", [b"", b"mine", b"mitertool " + b"0" * 64, b"999\nmitertool " + b"0" * 64 + b"\n"])
def test_what_only_names_the_program_is_not_ours(file: Path, content: bytes) -> None:
    file.write_bytes(content)
    assert not is_sealed(file)


def test_a_changed_byte_anywhere_and_one_more_are_seen(file: Path) -> None:
    content = file.read_bytes()
    for at in (0, len(content) // 3, len(content) // 2, len(content) - 1):
        file.write_bytes(content[:at] + bytes([content[at] ^ 1]) + content[at + 1 :])
        assert not is_sealed(file), at
    file.write_bytes(content + b"\n")
    assert not is_sealed(file)


def test_readers_of_the_format_pass_the_seal_over(file: Path) -> None:
    if file.suffix == ".dxf":
        read = ezdxf.readfile(file)
        assert len(read.modelspace()) == 2
        assert not read.audit().has_errors
    elif file.suffix == ".pdf":
        assert "mitertool" in PdfReader(file, strict=True).pages[0].extract_text()
    elif file.suffix == ".svg":
        ElementTree.parse(file)
    else:
        found, bare = image.imread(file), image.imread(io.BytesIO(BARE[".png"]))
        assert (found == bare).all()
