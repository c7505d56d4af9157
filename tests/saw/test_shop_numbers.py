"""Numbers as a shop writes them on its saw: variable pitch, rates with units, and figures that no saw has asked about.

By hand: 5 teeth an inch are 5.08 mm apart, 7 are 3.628571; 5 in2/min are 5 x 645.16 = 3225.8 mm2/min, 2 in/min 50.8
mm/min. A rectangle of 40 x 80 x 3 with sharp corners, cut at 60 degrees on a column: the thinnest wall on the blade is
6 mm, its longest contact 80. What is usual is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import attrs
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import Column
from mitertool.packet.pages.setting.walk_down import walk_down
from mitertool.quantity.rates import area_rate, show_area_rate, show_way_rate, way_rate
from mitertool.saw import Saw
from mitertool.saw.file.explain import explain
from mitertool.saw.file.machine import Blade
from mitertool.saw.file.questions import questions
from mitertool.saw.setting.teeth import teeth, time_says

HEAD = '[saw]\nname = "bench"\nkind = "column"\nunits = "{units}"\nkerf = {kerf}\n'
REST = """\
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 0
[arm]
below_bed = {below}
[bed]
swing_axis = {below}
[vise]
fixed_jaw = "left"
"""


def written(folder: Path, blade: str = "", units: str = "mm", kerf: str = "1.3") -> Path:
    path = folder / "saw.toml"
    below = "5" if units == "mm" else "0.2"
    path.write_text(HEAD.format(units=units, kerf=kerf) + REST.format(below=below) + f"[blade]\n{blade}\n")
    return path


@pytest.mark.parametrize(
    "pair", ["5/7", "5 / 7", " 5/7 ", "5-7", "5 - 7", "5–7", "5 to 7", "5/7 TPI", "5-7tpi", "5 to 7 teeth per inch"]
)
def test_a_variable_pitch_is_two_pitches(tmp_path: Path, pair: str) -> None:
    blade = Saw.load(written(tmp_path, f'teeth_per_inch = "{pair}"')).blade
    assert (blade.pitch, blade.finest) == pytest.approx((5.08, 25.4 / 7))


def test_parts_of_a_tooth_stay_decimals(tmp_path: Path) -> None:
    """1.4/2 is a blade of large saws; 1 1/4 is one number."""
    blade = Saw.load(written(tmp_path, 'teeth_per_inch = "1.4/2"')).blade
    assert (blade.pitch, blade.finest) == pytest.approx((25.4 / 1.4, 12.7))
    blade = Saw.load(written(tmp_path, 'teeth_per_inch = "1 1/4"')).blade
    assert (blade.pitch, blade.finest) == (pytest.approx(20.32), None)
    for one in ("1-1/4", "1¼", "1.25 TPI", "1 1/4 teeth an inch"):
        assert Saw.load(written(tmp_path, f'teeth_per_inch = "{one}"')).blade == blade
    assert Saw.load(written(tmp_path, 'teeth_per_inch = "½"')).blade.pitch == pytest.approx(50.8)


@pytest.mark.parametrize("pair", ["7/5", "5/5", "0/7", "7-5", "7 to 5 TPI", "5/7/9", "5..7", "5 7", "5 or 7", "five"])
def test_a_pair_the_wrong_way_round_is_refused_with_the_form(tmp_path: Path, pair: str) -> None:
    with pytest.raises(BadInput, match='written coarse/fine, such as "5/7"') as refusal:
        Saw.load(written(tmp_path, f'teeth_per_inch = "{pair}"'))
    assert refusal.value.where == ("saw.toml", "[blade]")


COLUMN = attrs.evolve(
    mt.Saw("column"), kind="column", kerf=1.3, arm=Column(5.0, 500.0), scale=mt.saw.Scale(0, "feed-side")
)
TUBE = mt.rect_tube(40, 80, 3, 0, 0)


def test_teeth_are_counted_for_both_pitches() -> None:
    """6 mm of wall: 1.18 coarse teeth, 1.65 fine ones; 80 mm: 22 fine ones. The wall is judged by the coarse."""
    saw = attrs.evolve(
        COLUMN, scale=attrs.evolve(COLUMN.scale, feed_side_most=70.0), blade=Blade(5.08, finest=25.4 / 7)
    )
    reach = saw.reach(TUBE, mt.Cut(60))
    found = teeth(reach)
    assert found is not None
    assert found.in_thinnest == pytest.approx(6 / 5.08)
    assert found.says(found.in_thinnest) == "1.2 to 1.7"
    assert found.notes[0].startswith("up to 22 teeth")
    assert "1.2 to 1.7 teeth in the thinnest wall may strip" in found.warnings[0]
    values = {step.says: step.value for step in walk_down(reach, "mm")}
    assert values["teeth in the mean / thinnest wall"].endswith(" / 1.2 to 1.7")


@pytest.mark.parametrize(
    ("value", "rate"),
    [(2150, 2150.0), ("2150", 2150.0), ("5 in2/min", 3225.8), ("5in²/min", 3225.8), ("32.258 cm2/min", 3225.8)],
)
def test_an_area_rate_bears_its_unit(value: object, rate: float) -> None:
    assert area_rate(value, "area_rate") == pytest.approx(rate)


@pytest.mark.parametrize(
    ("value", "rate"),
    [(60, 60.0), ("2 in/min", 50.8), ("1/4 ft/min", 76.2), ("0.05 m/min", 50.0), ("60 mm / min", 60.0)],
)
def test_a_descent_bears_its_unit(value: object, rate: float) -> None:
    assert way_rate(value, "descent") == pytest.approx(rate)


@pytest.mark.parametrize(
    ("value", "cause"),
    [
        (0, "more than 0"),
        ("-5 in2/min", "more than 0"),
        ("5 in/min", "none of mm2/min"),
        ("5 in2", "cannot be read"),
        ("", "empty"),
    ],
)
def test_a_rate_that_is_none_is_refused(value: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause):
        area_rate(value, "area_rate")


def test_rates_for_a_reader_of_inches() -> None:
    assert show_area_rate("mm", 3225.8) == "3225.8 mm2/min"
    assert show_area_rate("in", 3225.8) == "5 in2/min"
    assert show_way_rate("ft-in", 50.8) == "2 in/min"


RATES = "area_rate = 5\ndescent = 0.5"
"""In inches 5 / 645.16 = 0.00775 and 0.5 / 25.4 = 0.0197; the usual ones, 100 to 60000 mm2/min and 2 to 2000 mm/min,
are 0.155 to 93.0 and 0.0787 to 78.7."""


@pytest.mark.parametrize(
    ("units", "area", "way"),
    [
        (
            "mm",
            "[blade] area_rate is read as 5 mm2/min; usual is 100 to 60000 mm2/min. Is it right?",
            "[blade] descent is read as 0.5 mm/min; usual is 2 to 2000 mm/min. Is it right?",
        ),
        (
            "in",
            "[blade] area_rate is read as 0.00775 in2/min; usual is 0.155 to 93 in2/min. Is it right? "
            "A rate without a unit is mm2/min.",
            "[blade] descent is read as 0.0197 in/min; usual is 0.0787 to 78.7 in/min. Is it right? "
            "A rate without a unit is mm/min.",
        ),
    ],
)
def test_a_question_about_a_rate_speaks_the_units_of_the_file(tmp_path: Path, units: str, area: str, way: str) -> None:
    kerf = "1.3" if units == "mm" else "0.05"
    found = questions(Saw.load(written(tmp_path, RATES, units, kerf)))
    assert [one.says for one in found] == [area, way]


def read(path: Path) -> dict[str, str]:
    return {f"{row.table}.{row.key}": ", ".join(row.read) for row in explain(path)}


def test_check_says_what_it_understood_in_the_units_of_the_file(tmp_path: Path) -> None:
    found = read(written(tmp_path, 'teeth_per_inch = "5/7"\narea_rate = 5\ndescent = "2 in/min"', "in", '"1/16"'))
    assert found["saw.kerf"] == '0.0625"'
    assert found["blade.teeth_per_inch"] == '5 to 7 teeth an inch, 0.2" to 0.1429" apart'
    assert found["blade.area_rate"] == "0.00775 in2/min"
    assert found["blade.descent"] == "2 in/min"
    assert found["scale.feed_side_most"] == "60°"
    found = read(written(tmp_path, "pitch = 6.35", "mm", '"1/16 in"'))
    assert found["saw.kerf"] == "1.5875 mm"
    assert found["blade.pitch"] == "6.35 mm, 4 teeth an inch"
    found = read(written(tmp_path, "", "ft-in", '"1/16"'))
    assert found["saw.kerf"] == '1/16"'


@pytest.mark.parametrize(
    ("blade", "kerf", "keys"),
    [
        ("teeth_per_inch = 4\narea_rate = 3000\ndescent = 60", "1.3", []),
        ("", "3", []),
        ("", "3.1", ["kerf"]),
        ("", "0.13", ["kerf"]),
        ("teeth_per_inch = 0.71", "1.3", ["pitch or teeth_per_inch"]),
        ("pitch = 1", "1.3", ["pitch or teeth_per_inch"]),
        ('teeth_per_inch = "18/25"', "1.3", ["pitch or teeth_per_inch"]),
        ("area_rate = 32", "1.3", ["area_rate"]),
        ("descent = 0.5", "1.3", ["descent"]),
    ],
)
def test_what_is_asked_about(tmp_path: Path, blade: str, kerf: str, keys: list[str]) -> None:
    assert [one.key for one in questions(Saw.load(written(tmp_path, blade, kerf=kerf)))] == keys


@pytest.mark.parametrize(
    ("bed", "usual"),
    [
        ("swing_axis = -5", "0 or more"),
        ("swing_axis = -5\nwidth = 300", "0 to 300 mm"),
        ("swing_axis = 301\nwidth = 300", "0 to 300 mm"),
        ("swing_axis = 0\nwidth = 300", ""),
        ("swing_axis = 300", ""),
    ],
)
def test_a_swing_axis_beside_the_bar_is_asked_about(tmp_path: Path, bed: str, usual: str) -> None:
    """Behind the fixed jaw, or beyond the widest bar: it can be, so it is no error."""
    file = written(tmp_path, "")
    file.write_text(file.read_text().replace("swing_axis = 5", bed))
    found = questions(Saw.load(file))
    assert [one.key for one in found] == (["swing_axis"] if usual else [])
    assert all(f"usual is {usual}. Is it right?" in one.says for one in found)


def test_a_time_by_an_unlikely_rate_says_so() -> None:
    """A flat of 40 x 10 at 5 mm2/min: 80 minutes."""
    reach = attrs.evolve(COLUMN, blade=Blade(None, 5.0)).reach(mt.flat(40, 10), mt.Cut())
    assert time_says(reach) == "The cut takes 80.0 min by the shop's rates; is area_rate right? Run saw check."


def test_a_refusal_speaks_the_units_of_the_file(tmp_path: Path) -> None:
    text = written(tmp_path, "", "in", "0.05").read_text()
    (tmp_path / "saw.toml").write_text(text + "[guides]\nopening_least = 8\nopening_most = 4\n")
    with pytest.raises(BadInput, match="found '4\"'; must be opening_least, 8\", or more"):
        Saw.load(tmp_path / "saw.toml")
