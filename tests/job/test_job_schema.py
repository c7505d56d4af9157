"""The schema of job files says of every key what the reader says: the same keys, the same kinds, no value too few."""

from __future__ import annotations

import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.job import keys as tables
from mitertool.job import load, named
from mitertool.job.frame_keys import FRAME
from mitertool.job.schema import schema
from mitertool.quantity.keys import Key
from mitertool.quantity.tables import Table
from tests.schemas import (
    NUMBERS,
    WRONG,
    complaints,
    descriptions_missing,
    found,
    keys,
    toml,
    with_value,
    without,
)

ROOT = Path(__file__).resolve().parents[2]
GALLERY = sorted((ROOT / "gallery").glob("*/job.toml"))
DRAWINGS = ("keel-jig/strake.dxf", "loft-window/window.dxf")
SCHEMA = schema()

PIECE = {"mark": "A", "section": "FLAT 80x10", "length": 1200}
HEAD = {"name": "gate", "units": "mm"}
POLYGON = {"mark": "P", "shape": "polygon", "section": "FLAT 80x10", "measured": "outside", "root_gap": 1}
BRACE = {"mark": "B", "shape": "brace", "section": "FLAT 80x10"}
Z = {"name": "purlin", "shape": "z", "height": 150, "flange_width": 60, "thickness": 2, "inner_radius": 3}
SQUARE = [[0, 900], [900, 900], [900, 0], [0, 0]]

JOBS: dict[str, dict[str, Any]] = {
    "head": {
        "format": 1,
        "job": {**HEAD, "revision": "2", "date": "2024-05-17", "customer": "C", "saw": "saw.toml", "tolerance": "t"},
        "piece": [PIECE],
    },
    "piece": {
        "job": HEAD,
        "piece": [
            {**PIECE, "grade": "S235", "at": "short-point", "left": 10, "right": "1:12", "quantity": 2, "opposite": 1}
            | {"lay": 90, "out": "seam", "turn": ["as-drawn"]}
        ],
    },
    "cuts": {
        "job": HEAD,
        "piece": [
            {**PIECE, "mark": "A", "left": {"miter": 20, "bevel": 5}, "right": {"slope": "1:12", "bevel": 5}},
            {**PIECE, "mark": "B", "left": {"from_bar": 60, "long": "fixed", "bevel": 5}, "right": {"corner": 90}},
        ],
    },
    "points": {
        "job": HEAD,
        "piece": [
            {**PIECE, "mark": "A", "left": [20, "-30 meets 25 mm"], "right": ["1:3"]},
            {**PIECE, "mark": "B", "right": [{"miter": 20, "bevel": 5}, {"slope": "-1:12", "meets": 30}]},
            {**PIECE, "mark": "C", "right": [{"corner": 100}, {"from_bar": 60, "long": "fixed", "meets": [30, 4]}]},
        ],
    },
    "stock": {
        "job": HEAD,
        "piece": [PIECE],
        "stock": [{"section": "FLAT 80x10", "grade": "S235", "length": 6000, "quantity": 3, "cost": 40}],
        "nest": {"kerf": 1.3, "trim": 10, "grip": 80, "wedge_least": 2},
    },
    "sections": {
        "job": HEAD,
        "piece": [PIECE],
        "section": [
            {"name": "m", "as_measured": "RHS 80x40x3", "width": 40.2, "wall": 2.9},
            {"name": "d", "shape": "dxf", "file": "strake.dxf", "layer": "0", "units": "mm"},
            {"name": "t", "shape": "rect-tube", "width": 50, "height": 30, "wall": 3}
            | {"outer_radius": 6, "inner_radius": 3},
            {"name": "r", "shape": "round-tube", "diameter": 60, "wall": 3},
            {"name": "b", "shape": "round-bar", "diameter": 60},
            {"name": "f", "shape": "flat", "width": 60, "height": 10},
            {"name": "a", "shape": "angle", "width": 60, "height": 60, "thickness": 6, "root_radius": 8}
            | {"toe_radius": 4},
            {"name": "c", "shape": "channel", "width": 50, "height": 100, "web": 5, "flange": 8, "root_radius": 4}
            | {"toe_radius": 2, "taper": 8, "flange_at": "half-width"},
            {"name": "i", "shape": "i-section", "width": 48, "height": 100, "web": 5, "flange": 8, "root_radius": 4}
            | {"toe_radius": 2, "taper": 8},
            {"name": "e", "shape": "tee", "width": 50, "height": 60, "web": 5, "flange": 8, "root_radius": 4},
            {"name": "z", "shape": "z", "height": 150, "flange_width": 60, "thickness": 2, "inner_radius": 3}
            | {"lip": 18, "lip_angle": 50, "top_flange_width": 55},
        ],
    },
    "frames": {
        "job": HEAD,
        "section": [Z],
        "frame": [
            {"mark": "R", "shape": "rectangle", "section": ["FLAT 80x10"], "grade": "S235", "quantity": 2}
            | {"width": 800, "height": 600, "measured": "outside", "root_gap": 1, "corners": "butt"}
            | {"through": "height", "lay": 90},
            {"mark": "A", "shape": "rectangle", "section": "L 50x50x5", "heel": "out", "leg": "up"}
            | {"width": 800, "height": 600, "measured": "over heels"},
            {"mark": "C", "shape": "rectangle", "section": "UPN 100", "toes": "up"}
            | {"width": 800, "height": 600, "measured": "outside"},
            {"mark": "Z", "shape": "rectangle", "section": "purlin", "flange": "out"}
            | {"width": 800, "height": 600, "measured": "over webs"},
            {**POLYGON, "mark": "S", "sides": 6, "side": 500},
            {**POLYGON, "mark": "F", "sides": 6, "across_flats": 900},
            {**POLYGON, "mark": "K", "sides": 6, "across_corners": 900, "corners": ["miter"] * 6},
            {**POLYGON, "mark": "O", "points": SQUARE, "closed": False, "corners": "first-through"},
            {**POLYGON, "mark": "T", "points": SQUARE, "closed": False, "deduct": 3},
            {**POLYGON, "mark": "L", "lengths": [900, 900, 900], "angles": [60, 60, 60]},
            {"mark": "D", "shape": "drawing", "section": "FLAT 80x10", "file": "window.dxf", "line": "outside"}
            | {"layer": "FRAME", "units": "mm", "node": 1, "root_gap": 1, "corners": "miter"},
            {**BRACE, "mark": "I", "inside_width": 900, "inside_height": 700, "ends": "level"},
            {**BRACE, "mark": "U", "rise": 700, "run": 900, "ends": ["level", "plumb"]},
            {**BRACE, "mark": "N", "legs": [600, 700]},
            {"mark": "V", "shape": "infill", "section": "FLAT 80x10", "opening": 1500, "height": 900}
            | {"clear_most": 100, "rake": 5},
        ],
    },
}
"""Jobs that say everything a job may."""

TABLES = {
    "head": ("job",),
    "piece": ("piece",),
    "cuts": ("piece",),
    "points": ("piece",),
    "stock": ("stock", "nest"),
    "sections": ("section",),
    "frames": ("frame",),
}
"""The tables that each of them is about."""


def places() -> dict[str, tuple[str, tuple[Any, ...]]]:
    """Where each key stands once for each shape, by a name for the test: the job and the place."""
    found_at: dict[str, tuple[str, tuple[Any, ...]]] = {}
    for name, values in JOBS.items():
        for at in keys(values):
            if at[0] in TABLES[name]:
                shape = found(values, at[:2]).get("shape", "") if len(at) > 2 else ""
                words = (part for part in (at[0], shape, *at[1:]) if part and isinstance(part, str))
                found_at.setdefault(".".join(words), (name, at))
    return found_at


PLACES = places()
EVERY_PLACE = pytest.mark.parametrize("place", PLACES)

NAMES = {"section", "as_measured", "file", "layer", "saw", "lay"}
"""Keys whose texts only the reader can look up."""

LIES = {"heel", "leg", "toes", "flange"}
"""Keys that only some sections need."""

SAW = (
    '[saw]\nname = "bench saw"\nkind = "column"\nkerf = 1.1\n[scale]\nsquare = 0\npositive = "feed-side"\n'
    'feed_side_most = 60\ndischarge_side_most = 60\n[vise]\nfixed_jaw = "right"\n'
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the files that the trial jobs name."""
    made = tmp_path_factory.mktemp("schema")
    (made / "saw.toml").write_text(SAW)
    for name in DRAWINGS:
        shutil.copy(ROOT / "gallery" / name, made)
    return made


def refusal(values: dict[str, Any], folder: Path) -> str:
    """What the reader has against a job; "" where it takes it."""
    (folder / "job.toml").write_text(toml(values), encoding="utf-8")
    try:
        load(folder / "job.toml")
    except MitertoolError as error:
        return str(error)
    return ""


def alone(name: str, at: tuple[Any, ...]) -> tuple[dict[str, Any], tuple[Any, ...]]:
    """The trial job with only the frame or section in question, so that a reader has little to solve; and the place."""
    values = JOBS[name]
    if at[0] not in ("frame", "section"):
        return values, at
    return {**values, at[0]: [found(values, at[:2])]}, (at[0], 0, *at[2:])


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_key_has_its_sentence() -> None:
    assert descriptions_missing(SCHEMA) == []


@pytest.mark.parametrize("name", JOBS)
def test_the_trial_jobs_are_good(name: str, folder: Path) -> None:
    assert refusal(JOBS[name], folder) == ""
    assert complaints(SCHEMA, JOBS[name]) == []


@pytest.mark.parametrize("path", GALLERY, ids=lambda path: path.parent.name)
def test_every_job_of_the_gallery_passes(path: Path) -> None:
    assert complaints(SCHEMA, tomllib.loads(path.read_text(encoding="utf-8"))) == []


LATE = (
    *("section", "lay", "corners", "left", "right", "slope", "meets", "from_bar", "heel", "toes", "ends", "flange_at"),
    *("points", "lengths", "angles"),
)
"""Keys that are read in part where it is known what they depend on."""


@pytest.mark.parametrize("place", [place for place, (_, at) in PLACES.items() if at[-1] in LATE])
def test_values_of_the_wrong_kind_are_refused_by_both(place: str, folder: Path) -> None:
    base, at = alone(*PLACES[place])
    for value in WRONG:
        if at[-1] in NAMES and value in ("word", "1,5"):
            continue
        values = with_value(base, at, value)
        said = refusal(values, folder)
        assert bool(said) == bool(complaints(SCHEMA, values)), (value, said)


def taken(key: Key, value: Any) -> bool:
    try:
        key.kind.read(value, "it", "mm")
    except BadInput:
        return False
    return True


TABLES_OF_KEYS = {
    "job": tables.HEAD,
    "stock": tables.STOCK,
    "nest": tables.NEST,
    "piece": tables.PIECE,
    "as measured": named.measured_keys(),
    **named.made_keys().each,
    **FRAME.each,
}


@pytest.mark.parametrize("table", TABLES_OF_KEYS)
def test_reader_and_editor_say_the_same_of_a_value(table: str) -> None:
    for name, key in TABLES_OF_KEYS[table].keys.items():
        if name in {*LATE, *LIES}:
            continue
        for value in WRONG:
            assert taken(key, value) == (complaints(key.kind.schema, value) == []), (name, value)
        for value in NUMBERS:
            assert not taken(key, value) or complaints(key.kind.schema, value) == [], (name, value)


@pytest.mark.parametrize(
    "place", [place for place, (_, at) in PLACES.items() if at[-1] not in LIES and place != "nest.kerf"]
)
def test_the_same_keys_are_needed(place: str, folder: Path) -> None:
    base, at = alone(*PLACES[place])
    values = without(base, at)
    said = refusal(values, folder)
    assert bool(said) == bool(complaints(SCHEMA, values)), said


SIZES: dict[str, Any] = {
    "width": 900,
    "height": 700,
    "sides": 4,
    "side": 900,
    "across_flats": 900,
    "points": SQUARE,
    "closed": False,
    "lengths": [9, 9, 9],
    "angles": [60, 60],
    "deduct": 3,
    "file": "a.dxf",
    "line": "outside",
    "rake": 5,
    "inside_width": 900,
    "inside_height": 700,
    "rise": 700,
    "run": 900,
    "legs": [1, 2],
    "ends": "level",
    "opening": 900,
    "clear_most": 100,
    "measured": "outside",
    "through": "width",
    "corners": "miter",
    "thickness": 5,
    "bottom": [300, 200],
    "top": 800,
    "nodes": [[0, 0, 0], [1000, 0, 0], [1800, 0, 600]],
    "roll": 15,
    "tops": "carried",
    "radius": 300,
    "angle": 90,
    "cuts": 3,
    "tangents": [50, 20],
    "offset": 400,
    "flights": [[900, 0], [800, 600, 15]],
    "between": 90,
    "trunk": 400,
    "on": "CHS 168.3x6.3",
    "length": 400,
    "passes": 20,
    "arms": 300,
    "opening_width": 3000,
    "opening_height": 2000,
    "hinge_gap": 20,
    "leaves": 2,
    "right_height": 900,
    "stands_in": 50,
    "chords": 4,
    "half": True,
    "span": 4000,
    "ridge": 900,
    "panels": 4,
    "pitch": 280,
    "first": 200,
}


@pytest.mark.parametrize("shape", FRAME.each)
@given(data=st.data())
def test_reader_and_editor_ask_for_the_same_sizes(shape: str, data: st.DataObject) -> None:
    own = [name for name in SIZES if name in FRAME.each[shape].keys]
    names = data.draw(st.sets(st.sampled_from(own)) | st.sets(st.sampled_from(sorted(SIZES)), max_size=3))
    values = {"mark": "F", "shape": shape, "section": "FLAT 80x10", **{name: SIZES[name] for name in names}}
    try:
        FRAME.read(Table(values, (), "mm"))
        said = ""
    except BadInput as error:
        said = str(error)
    assert bool(said) == bool(complaints(SCHEMA["properties"]["frame"]["items"], values)), said


def test_a_kerf_may_come_from_a_saw_that_only_the_reader_knows(folder: Path) -> None:
    values = without(JOBS["stock"], ("nest", "kerf"))
    assert "needs a kerf here" in refusal(values, folder)
    assert complaints(SCHEMA, values) == []
    (folder / "job.toml").write_text(toml(values), encoding="utf-8")
    allowance = load(folder / "job.toml", saw_file=lambda _: folder / "saw.toml").allowance
    assert allowance is not None
    assert allowance.kerf == 1.1


WORDS_OF_LAY = {"A": {"heel": ("out", "in"), "leg": ("up", "down")}, "C": {"toes": ("out", "in", "up", "down")}}


@pytest.mark.parametrize("mark", WORDS_OF_LAY)
def test_every_word_for_the_lay_is_taken_by_both(mark: str, folder: Path) -> None:
    base = next(one for one in JOBS["frames"]["frame"] if one["mark"] == mark)
    for key, words in WORDS_OF_LAY[mark].items():
        for word in words:
            values = {"job": HEAD, "frame": [{**base, key: word, "measured": "outside"}]}
            assert refusal(values, folder) == ""
            assert complaints(SCHEMA, values) == []


def test_both_long_sides_of_a_cut_are_taken_by_both(folder: Path) -> None:
    for long in ("moving", "fixed"):
        values = {"job": HEAD, "piece": [{**PIECE, "left": {"from_bar": 60, "long": long}}]}
        assert refusal(values, folder) == ""
        assert complaints(SCHEMA, values) == []


WRONG_JOBS: dict[str, dict[str, Any]] = {
    "a size of another shape": {"job": HEAD, "frame": [{**BRACE, "legs": [600, 700], "width": 900}]},
    "deduct of a closed frame": {"job": HEAD, "frame": [{**POLYGON, "points": SQUARE, "deduct": 3}]},
    "no pieces": {"job": HEAD},
    "no head": {"piece": [PIECE]},
    "unit": {"job": {**HEAD, "units": "furlong"}, "piece": [PIECE]},
    "comma in a length": {"job": HEAD, "piece": [{**PIECE, "length": "1,5"}]},
    "negative length": {"job": HEAD, "piece": [{**PIECE, "length": -5}]},
    "negative length as text": {"job": HEAD, "piece": [{**PIECE, "length": "-5 mm"}]},
    "miter at 90": {"job": HEAD, "piece": [{**PIECE, "left": 90}]},
    "a cut given two ways": {"job": HEAD, "piece": [{**PIECE, "left": {"miter": 5, "corner": 90}}]},
    "a long side without from_bar": {"job": HEAD, "piece": [{**PIECE, "left": {"miter": 5, "long": "fixed"}}]},
    "a slope without a colon": {"job": HEAD, "piece": [{**PIECE, "left": {"slope": "3"}}]},
    "pose": {"job": HEAD, "piece": [{**PIECE, "turn": ["upside-down"]}]},
    "long mark": {"job": HEAD, "piece": [{**PIECE, "mark": "M" * 21}]},
    "half a piece": {"job": HEAD, "piece": [{**PIECE, "quantity": 0.5}]},
    "two sizes of a polygon": {"job": HEAD, "frame": [{**POLYGON, "sides": 6, "side": 500, "across_flats": 900}]},
    "two ways of a polygon": {"job": HEAD, "frame": [{**POLYGON, "sides": 6, "side": 500, "points": SQUARE}]},
    "a point of three": {"job": HEAD, "frame": [{**POLYGON, "points": [[0, 0, 0], [9, 9], [9, 0]]}]},
    "sides without angles": {"job": HEAD, "frame": [{**POLYGON, "lengths": [900, 900, 900]}]},
    "two ways of a brace": {
        "job": HEAD,
        "frame": [{**BRACE, "rise": 700, "run": 900, "ends": "level", "legs": [1, 2]}],
    },
    "no size of a brace": {"job": HEAD, "frame": [{**BRACE, "ends": "level"}]},
    "one leg of a knee": {"job": HEAD, "frame": [{**BRACE, "legs": [600]}]},
    "measured but nothing given": {
        "job": HEAD,
        "piece": [PIECE],
        "section": [{"name": "m", "as_measured": "SHS 40x40x3"}],
    },
    "a wall on a flat": {
        "job": HEAD,
        "piece": [PIECE],
        "section": [{"name": "f", "shape": "flat", "width": 60, "height": 10, "wall": 3}],
    },
}


@pytest.mark.parametrize("name", WRONG_JOBS)
def test_wrong_examples_are_refused_by_both(name: str, folder: Path) -> None:
    assert refusal(WRONG_JOBS[name], folder) != ""
    assert complaints(SCHEMA, WRONG_JOBS[name]) != []
