"""The versions that are tested as the lowest are those that pyproject.toml allows as the lowest."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from packaging.requirements import Requirement
from packaging.version import Version

ROOT = Path(__file__).resolve().parents[1]


def allowed() -> dict[str, Version]:
    """The lower bound of every dependency."""
    needed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    found = {}
    for requirement in map(Requirement, needed):
        (least,) = (one.version for one in requirement.specifier if one.operator == ">=")
        found[requirement.name] = Version(least)
    return found


def in_ci() -> dict[str, Version]:
    lines = (ROOT / ".ci" / "lowest.txt").read_text(encoding="utf-8").split()
    return {name: Version(version) for name, version in (re.split("==", line) for line in lines)}


def test_the_lowest_versions_are_tested() -> None:
    assert len(in_ci()) > 10
    assert in_ci() == allowed()


def test_no_license_is_claimed() -> None:
    """Only the owner can grant one."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert "license" not in project
    assert not any("License" in one for one in project["classifiers"])
