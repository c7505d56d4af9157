"""The walk down a setting: the order of doing, the usual habits of the trade, values worked by hand.

Order and habits are common practice, no source: motor off, blade clear of the bed slot and pivot loose before the arm
swings; guide and support out before, guide in after clamping; solid bar takes full vise pressure, a
thin wall only what does not deform it.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import attrs
import pytest

import mitertool as mt
from mitertool.packet.pages.setting.walk_down import ToDo, walk_down
from mitertool.quantity import show_angle, show_length
from mitertool.saw.file.machine import Cutting
from tests.saw.machines import COLUMN, HINGE, roomy

HINGED = mt.Saw.load(Path(__file__).resolve().parents[2] / "gallery" / "saws" / "hinged.toml")
TUBE = mt.rect_tube(40, 80, 3)


def steps(saw: mt.Saw = HINGED, section: mt.Section = TUBE, grade: str = "", miter: float = 45) -> tuple[ToDo, ...]:
    return walk_down(saw.reach(section, mt.Cut(miter)), "mm", grade)


def at(found: tuple[ToDo, ...], words: str) -> int:
    """The place in the list of the one step with these words."""
    (place,) = (i for i, step in enumerate(found) if words in step.says)
    return place


def test_the_order_of_doing() -> None:
    found = steps()
    words = (
        "motor off, locked",
        "moving jaw, feed side",
        "swing to the feed side",
        "lock the pivot",
        "lay the bar",
        "jaw to within",
        "guide in",
        "lift the arm",
    )
    more = ("clearance proved", "travel, first touch")
    places = [at(found, says) for says in (*words, *more)]
    assert places == sorted(places)
    assert [step.number for step in found] == sorted(step.number for step in found)
    assert found[0].number == 1
    assert all(after.number - before.number in (0, 1) for before, after in pairwise(found))


def test_before_the_arm_swings_the_motor_is_off_the_blade_clear_the_pivot_loose_and_the_guide_out() -> None:
    first = steps()[0].says
    assert all(words in first for words in ("motor off", "clear of the bed slot", "pivot loose", "guide out"))
    assert "guide" not in steps(attrs.evolve(HINGED, guides=None))[0].says


def test_the_pivot_is_locked_with_the_swing_before_the_bar_is_loaded() -> None:
    """A loose arm over a loaded bar may swing by itself: it is locked in the step that sets it."""
    found = steps()
    locked, swung, loaded = (at(found, says) for says in ("lock the pivot", "swing to the feed", "lay the bar"))
    assert swung < locked < loaded
    assert found[locked].number == found[swung].number < found[loaded].number


def test_a_cut_that_cannot_be_made_has_no_steps() -> None:
    """The arm swings 57 degrees to the feed side: 58 is not walked down."""
    assert steps(miter=57)
    assert steps(miter=58) == ()


def test_values_are_those_worked_by_hand() -> None:
    """Miter 45 on an axis 28 from the fixed jaw: the moving jaw's back corner stands at y = 40 + 72, so the blade
    reaches 84 to the feed side, 11/cos 45 = 15.56 and 4 more; the guides 40/cos + 2 x 11 + 2 x 4/cos apart.
    """
    found = {step.letter: step.value for step in steps() if step.letter}
    assert found["B1"] == "103.6"
    assert found["D"] == show_length(40 * 2**0.5 + 22 + 8 * 2**0.5, "mm")
    assert found["A"] == show_angle(45)
    assert steps()[at(steps(), "scale reads")].value == show_angle(135)
    assert found["WH"] == "40 / 80"


def test_the_reading_between_two_lines_of_the_scale() -> None:
    assert not any("the line of" in step.says for step in steps(miter=45))
    assert any("0.1° past the line of 126.5°" in step.says for step in steps(miter=36.6))
    assert any("0.13° short of the line of 127°" in step.says for step in steps(miter=36.87))


def test_how_near_the_jaw_comes_is_the_manuals_where_the_file_does_not_say() -> None:
    plain = attrs.evolve(HINGED, approach=None)
    assert "jaw near the bar, as the manual says" in steps(plain)[at(steps(plain), "jaw near")].says
    assert any("jaw to within 8 of the bar" in step.says for step in steps())


@pytest.mark.parametrize(
    ("section", "words"),
    [(mt.flat(40, 20), "full pressure"), (mt.round_bar(30), "full pressure"), (TUBE, "no more than the wall bears")],
    ids=["flat", "round", "tube"],
)
def test_vise_pressure(section: mt.Section, words: str) -> None:
    plain = attrs.evolve(HINGED, cutting=())
    assert any(words in step.says for step in steps(plain, section))


def test_the_shops_own_table_by_grade_and_wall() -> None:
    rows = (
        Cutting("S235", 2, 5, "66 m/min", "dial at 4", "emulsion", "a third"),
        Cutting("", 5.01, None, "58 m/min", "dial at 3", "emulsion", "full"),
    )
    saw = attrs.evolve(HINGED, cutting=rows)
    assert any("66 m/min" in step.says for step in steps(saw, grade="S235"))
    assert any("pressure a third" in step.says for step in steps(saw, grade="S235"))
    assert not any("m/min" in step.says for step in steps(saw, grade="S355"))
    assert any("58 m/min" in step.says for step in steps(saw, mt.rect_tube(40, 80, 8), grade="S355"))
    assert any("58 m/min" in step.says for step in steps(saw, mt.flat(40, 20)))


def test_nothing_is_said_of_what_the_file_does_not_tell() -> None:
    bare = mt.Saw("bare")
    letters = {step.letter for step in steps(bare) if step.letter}
    assert letters == {"A", "WH"}
    assert {step.letter for step in steps(bare, miter=0) if step.letter} == {"WH"}


@pytest.mark.parametrize(("arm", "unit"), [(HINGE, "°"), (COLUMN, "")])
def test_lift_and_travel_are_degrees_on_a_hinge_and_lengths_on_a_column(arm: object, unit: str) -> None:
    found = {step.letter: step.value for step in steps(roomy(arm)) if step.letter}  # type: ignore[arg-type]
    assert found["E"].endswith("°") == found["G"].endswith("°") == (unit == "°")


def test_a_packing_is_told_for_a_bar_that_would_tip() -> None:
    laid = mt.angle(50, 50, 5).lay(30)
    reach = HINGED.reach(laid, mt.Cut(0))
    assert reach.pack is not None
    found = {step.letter: step.value for step in walk_down(reach, "mm") if step.letter}
    assert found["P"] == show_length(reach.pack.height, "mm")


def test_warnings_stand_out() -> None:
    assert [step.warns for step in steps() if "WARNING" in step.says] == [True]
    assert any(step.says == "least gap for the bar" and not step.warns for step in steps())
