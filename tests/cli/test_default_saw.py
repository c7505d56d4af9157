"""A saw file named once serves every command that takes one: after `--saw`, after a job's own, and never unsaid."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from platformdirs import user_config_path

from tests.cli.conftest import ROOT, Said

GATE = ROOT / "gallery" / "boathouse-gate"
ONE_PIECE = '[job]\nname = "Job"\n{saw}[[piece]]\nmark = "A"\nsection = "SHS 40x40x3"\nlength = 100\nright = 30\n'
COMMANDS = {
    "cut": ("cut", "SHS 40x40x3", "--miter", "30"),
    "piece": ("piece", "SHS 40x40x3", "--length", "300", "--right", "30"),
    "frame": ("frame", "infill", "--section", "ROUND 12", "--opening", "900", "--height", "900", "--clear-most", "100"),
    "check": ("check", "job.toml"),
    "packet": ("packet", "job.toml", "--preview"),
    "first-piece": ("first-piece", "SHS 40x40x3", "--length", "300", "--long", "300", "--short", "300"),
}
Call = Callable[..., Said]


def saw(name: str, square: int) -> str:
    """A saw whose scale reads so at a square cut."""
    scale = f'square = {square}\npositive = "feed-side"\nfeed_side_most = 60\ndischarge_side_most = 60\n'
    return f'[saw]\nname = "{name}"\nkind = "hinged"\nkerf = 1\n[scale]\n{scale}[vise]\nfixed_jaw = "left"\n'


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder, stood in, with three saws and two jobs; MITERTOOL_SAW names the first saw."""
    for name, square in (("first.toml", 90), ("other.toml", 0)):
        (tmp_path / name).write_text(saw(name, square))
    (tmp_path / "job.toml").write_text(ONE_PIECE.format(saw=""))
    (tmp_path / "own.toml").write_text(ONE_PIECE.format(saw='saw = "other.toml"\n'))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MITERTOOL_SAW", str(tmp_path / "first.toml"))
    return tmp_path


def scale(said: Said) -> Any:
    """What the scale must read at the right end of the piece A, or None without a saw."""
    assert said.code == 0
    reach = said.json["pieces"][0]["reach"]["right"]
    return reach and reach["scale_deg"]


@pytest.mark.parametrize("name", COMMANDS)
def test_it_serves_every_command_and_is_told_beside_the_answer(name: str, call: Call, shop: Path) -> None:
    said = call(*COMMANDS[name])
    assert said.code == 0
    (line,) = said.err.splitlines()
    assert line.startswith(f"mitertool: saw file {shop / 'first.toml'} (MITERTOOL_SAW; ")
    assert call(*COMMANDS[name], "--saw", str(shop / "first.toml")) == Said(0, said.out, "")


@pytest.mark.parametrize("name", [name for name in COMMANDS if name != "first-piece"])
def test_none_leaves_it_out(name: str, call: Call, shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    without = call(*COMMANDS[name], "--saw", "none")
    monkeypatch.setenv("MITERTOOL_SAW", "none")
    assert without == call(*COMMANDS[name])
    assert (without.code, without.err) == (0, "")


def test_a_first_piece_without_a_saw_still_asks_how_it_came_about(call: Call, shop: Path) -> None:
    said = call(*COMMANDS["first-piece"], "--saw", "none")
    assert (said.code, said.out) == (2, "")
    assert "how the second end came about is not known" in said.err


def test_the_order_is_option_job_default(call: Call, shop: Path) -> None:
    """A right cut of 30 degrees swings to the feed side: 90 + 30 on the first scale, 30 on the other."""
    assert scale(call("check", "job.toml", "--json")) == pytest.approx(120)
    assert scale(call("check", "own.toml", "--json")) == pytest.approx(30)
    assert call("check", "own.toml", "--json").err == ""
    assert scale(call("check", "own.toml", "--json", "--saw", "first.toml")) == pytest.approx(120)
    assert scale(call("check", "own.toml", "--json", "--saw", "none")) is None


def test_a_file_in_the_users_folder_serves_where_the_environment_names_none(
    call: Call, shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("XDG_CONFIG_HOME", "HOME", "APPDATA", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(shop / "home"))
    monkeypatch.setenv("MITERTOOL_SAW", "")
    assert scale(call("check", "job.toml", "--json")) is None
    folder = user_config_path("mitertool", appauthor=False)
    if not folder.is_relative_to(shop):
        pytest.fail(f"{folder} is outside this test")
    folder.mkdir(parents=True)
    shutil.copy(shop / "other.toml", folder / "saw.toml")
    said = call("check", "job.toml", "--json")
    assert scale(said) == pytest.approx(30)
    assert said.err.startswith(f"mitertool: saw file {folder / 'saw.toml'} (")
    monkeypatch.setenv("MITERTOOL_SAW", "first.toml")
    assert scale(call("check", "job.toml", "--json")) == pytest.approx(120)


def test_a_default_that_is_not_there_is_refused_by_its_name(call: Call, shop: Path) -> None:
    (shop / "first.toml").unlink()
    said = call("cut", "SHS 40x40x3")
    assert (said.code, said.out, len(said.err.splitlines())) == (2, "", 1)
    assert f"file: found '{shop / 'first.toml'}'; cannot be read" in said.err
    assert "MITERTOOL_SAW" in said.err


def test_a_correction_is_kept_in_the_default_saw(call: Call, shop: Path) -> None:
    """tan is 83 / 80 for each end of 45 degrees: a one-way arm stood atan(83 / 80) - 45 = 1.054 degrees too far."""
    one_way = saw("first.toml", 90).replace("discharge_side_most = 60", "discharge_side_most = 0")
    (shop / "first.toml").write_text(one_way)
    drawn = ("--length", "1200", "--left", "45", "--right", "45")
    said = call("first-piece", "RHS 80x40x3", *drawn, "--long", "1201.5", "--short", "1118.5", "--keep")
    assert said.code == 0
    assert "\noffset = -1.054\n" in (shop / "first.toml").read_text()


def test_the_hash_of_the_inputs_is_that_of_the_saw_that_serves(call: Call, shop: Path) -> None:
    """Two packets of one job are told apart by their saws, and one saw gives one hash whoever names it."""

    def made(out: str, *more: str) -> str:
        assert call("packet", "job.toml", "--out", out, *more).code == 0
        return str(json.loads((shop / out / "plan.json").read_text())["inputs"])

    first, other = made("a"), made("b", "--saw", "other.toml")
    assert first == made("c", "--saw", "first.toml") != other
