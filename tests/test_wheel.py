"""The wheel is whole: built without a network, installed into an empty folder, it makes a packet from its own data."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCES = ("pyproject.toml", "README.md", "mitertool", "profiles")
JOB = ROOT / "gallery" / "boathouse-gate"

PLACES = """
import json, mitertool
from mitertool.sections.catalogue import shipped_folder
print(json.dumps([mitertool.__file__, str(shipped_folder()), mitertool.section("RHS 80x40x3").width]))
"""


def python(*arguments: str, cwd: Path, path: Path) -> str:
    """What an interpreter says that finds mitertool in `path` and knows nothing of the checkout or of a shop's data."""
    environment = {key: value for key, value in os.environ.items() if not key.startswith(("MITERTOOL", "PYTHON"))}
    environment["MITERTOOL_SAW"] = "none"
    home = str(cwd)
    environment |= {"PYTHONPATH": str(path), "HOME": home, "XDG_DATA_HOME": home, "APPDATA": home, "LOCALAPPDATA": home}
    command = [sys.executable, *arguments]
    done = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from a copy so that the checkout stays clean."""
    copy, out = tmp_path_factory.mktemp("checkout"), tmp_path_factory.mktemp("dist")
    for name in SOURCES:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(ROOT / name, copy / name)
    python("-m", "hatchling", "build", "-t", "wheel", "-d", str(out), cwd=copy, path=copy)
    (built,) = out.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with nothing in it but the installed wheel."""
    target, cwd = tmp_path_factory.mktemp("installed"), tmp_path_factory.mktemp("elsewhere")
    options = ("--quiet", "--no-deps", "--no-index", "--disable-pip-version-check", "--no-compile")
    python("-m", "pip", "install", *options, "--target", str(target), str(wheel), cwd=cwd, path=cwd)
    return target


def test_the_wheel_holds_the_package_and_its_data(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    sources = {
        f"mitertool/{path.relative_to(ROOT / 'mitertool').as_posix()}" for path in ROOT.glob("mitertool/**/*.py")
    }
    data = {f"mitertool/profiles/{path.name}" for path in (ROOT / "profiles").glob("*.toml")}
    page = ROOT / "mitertool" / "page"
    shown = {f"mitertool/page/{path.relative_to(page).as_posix()}" for path in page.glob("[st]*/*.*")}
    assert len(data) > 10
    assert {"mitertool/page/templates/base.html", "mitertool/page/static/htmx.min.js"} <= shown
    assert sources | data | shown | {"mitertool/py.typed"} <= names
    assert {name.partition("/")[0].split("-")[0] for name in names} == {"mitertool"}


def test_an_installed_mitertool_uses_its_own_files(installed: Path, tmp_path: Path) -> None:
    package, profiles, width = json.loads(python("-c", PLACES, cwd=tmp_path, path=installed))
    assert Path(package) == installed / "mitertool" / "__init__.py"
    assert Path(profiles) == installed / "mitertool" / "profiles"
    assert width == 40


def test_an_installed_mitertool_makes_the_packet(installed: Path, tmp_path: Path) -> None:
    job = shutil.copytree(JOB, tmp_path / "job", ignore=shutil.ignore_patterns("packet"))
    arguments = ("packet", str(job / "job.toml"), "--out", "packet", "--json")
    answer = json.loads(python("-m", "mitertool", *arguments, cwd=tmp_path, path=installed))
    assert "cut-sheet.pdf" in answer["files"]
    assert all((tmp_path / "packet" / name).stat().st_size > 0 for name in answer["files"])


def test_an_installed_mitertool_is_a_command(installed: Path, tmp_path: Path) -> None:
    commands = [path for path in (installed / "bin").iterdir() if path.stem == "mitertool"]
    assert len(commands) == 1
    version = next(installed.glob("mitertool-*.dist-info")).name.split("-")[1].removesuffix(".dist")
    assert python(str(commands[0]), "--version", cwd=tmp_path, path=installed) == f"mitertool {version}\n"


def test_a_checkout_uses_the_profiles_beside_the_package(tmp_path: Path) -> None:
    package, profiles, _ = json.loads(python("-c", PLACES, cwd=tmp_path, path=ROOT))
    assert Path(package) == ROOT / "mitertool" / "__init__.py"
    assert Path(profiles) == ROOT / "profiles"
