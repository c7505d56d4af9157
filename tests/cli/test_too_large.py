"""Sizes that would run away, and numbers that mean nothing, are refused by their key or option, soon."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]

JOB = """
[job]
name = "NAME"
[nest]
kerf = 1
[[stock]]
section = "RHS 80x40x3"
length = 6000
[[piece]]
mark = "A"
section = "RHS 80x40x3"
length = 500
left = 45
"""
FRAME = '[[frame]]\nmark = "F"\nshape = "rectangle"\nsection = "RHS 80x40x3"\nwidth = 900\nheight = 600\n'


@pytest.mark.parametrize(
    ("job", "told"),
    [
        (JOB.replace("NAME", "n" * 1001), "[job]: name: found 'nnn"),
        (JOB.replace("NAME", "n" * 100_000), "a text here has at most 1000 characters, this one has 100000"),
        (f"{JOB}quantity = 10001\n", "[[piece]] A: quantity: found 10001; it is above the range"),
        (
            f"{JOB}side_by_side = 41\n",
            "side_by_side: found 41; it is above the range",
        ),
        (f"{JOB}{FRAME}quantity = 10001\n", "[[frame]] F: quantity: found 10001"),
    ],
    ids=["name", "long name", "pieces", "bars in the vise", "frames"],
)
def test_of_a_job(call: Call, tmp_path: Path, job: str, told: str) -> None:
    (tmp_path / "job.toml").write_text(job)
    said = call("check", str(tmp_path / "job.toml"))
    assert (said.code, said.out) == (2, "")
    assert told in said.err


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (
            ("cut", "RHS 80x40x3", "--bars", "41"),
            "--bars: found '41'; it is above the range",
        ),
        (("nest", "JOB", "--time-limit=-1"), "--time-limit: found '-1'; it must be 0 or more"),
        (("nest", "JOB", "--effort=-0.5"), "--effort: found '-0.5'; it must be 0 or more"),
        (
            (
                "first-piece",
                "RHS 80x40x3",
                "--length",
                "1200",
                "--long",
                "1201",
                "--short",
                "1121",
                "--way",
                "rolled",
                "--protractor=-1",
            ),
            "--protractor: found '-1'; it must be 0 or more",
        ),
    ],
    ids=lambda given: given[0] if isinstance(given, tuple) else "",
)
def test_of_an_option(call: Call, tmp_path: Path, arguments: tuple[str, ...], told: str) -> None:
    (tmp_path / "job.toml").write_text(JOB)
    said = call(*(str(tmp_path / "job.toml") if one == "JOB" else one for one in arguments))
    assert (said.code, said.out) == (2, "")
    assert told in said.err


def test_a_name_of_one_long_word_without_a_revision_is_set(call: Call, tmp_path: Path) -> None:
    """Of the heading nothing is left for a revision that there is not."""
    (tmp_path / "job.toml").write_text(JOB.replace("NAME", "n" * 300))
    assert call("packet", str(tmp_path / "job.toml"), "--out", str(tmp_path / "packet")).code == 0


def test_a_misspelt_section_of_the_job_s_own_is_offered_these(call: Call, tmp_path: Path) -> None:
    own = '[[section]]\nname = "STRAKE 40"\nshape = "flat"\nwidth = 40\nheight = 8\n'
    (tmp_path / "job.toml").write_text(
        own + JOB.replace('mark = "A"\nsection = "RHS 80x40x3"', 'mark = "A"\nsection = "STRAK 40"')
    )
    said = call("check", str(tmp_path / "job.toml"))
    assert (said.code, said.out) == (2, "")
    assert "[[piece]] A: section: found 'STRAK 40'; the nearest names are STRAKE 40" in said.err


@pytest.mark.parametrize(
    ("name", "arguments"),
    [
        ("large.toml", ("check", "FILE")),
        ("saw.toml", ("saw", "check", "FILE")),
        ("done.csv", ("nest", "JOB", "--done", "FILE")),
        ("parts.csv", ("check", "FILE", "--angles", "from square")),
        ("rack.csv", ("rack", "import", "FILE", "--rack", "RACK")),
        ("gate.dxf", ("frame", "drawing", "--section", "SHS 40x40x3", "--line", "outside", "--file", "FILE")),
    ],
    ids=lambda given: given if isinstance(given, str) else "",
)
def test_a_file_of_megabytes_is_not_read(call: Call, tmp_path: Path, name: str, arguments: tuple[str, ...]) -> None:
    """One byte more than is meant, as long as a device that never ends."""
    most = 25 if name.endswith(".dxf") else 20
    with (tmp_path / name).open("wb") as file:
        file.truncate(most * 1_000_000 + 1)
    (tmp_path / "job.toml").write_text(JOB)
    places = {"FILE": name, "JOB": "job.toml", "RACK": "rack.sqlite"}
    said = call(*(str(tmp_path / places[one]) if one in places else one for one in arguments))
    assert (said.code, said.out) == (2, "")
    assert name in said.err and f"{most} MB" in said.err
