"""Text to degrees, and slopes to degrees; expected values worked by hand unless the check says otherwise."""

from __future__ import annotations

import math

import pytest

from mitertool.base.errors import BadInput
from mitertool.quantity import angle, slope_angle

ANGLES = [
    ("22.5", 22.5),
    ("-22.5", -22.5),
    ("+45", 45.0),
    ("22.5 deg", 22.5),
    ("22.5deg", 22.5),
    ("22.5 degrees", 22.5),
    ("22.5°", 22.5),
    ("22.5 °", 22.5),
    ("22.5º", 22.5),
    ("−22.5°", -22.5),
    ("22 1/2", 22.5),
    ("22-1/2", 22.5),
    ("22½°", 22.5),
    ("1/2°", 0.5),
    ("½ deg", 0.5),
    ("-3/4°", -0.75),
    ("22°30'", 22.5),
    ("22° 30'", 22.5),
    ("22°30′", 22.5),
    ("22 deg 30'", 22.5),
    ("22°30.5'", 22.0 + 30.5 / 60),
    ("22°30'15\"", 22.0 + (30 * 60 + 15) / 3600),
    ("22°30′15″", 22.0 + (30 * 60 + 15) / 3600),
    ("-22°30'", -22.5),
    ("-0°30'", -0.5),
    (45, 45.0),
    (-10.53, -10.53),
]


@pytest.mark.parametrize(("value", "degrees"), ANGLES)
def test_angle(value: object, degrees: float) -> None:
    assert angle(value, "miter") == pytest.approx(degrees, abs=1e-12)


def test_whole_minutes_are_exact() -> None:
    assert angle("22°30'", "miter") == 22.5


ANGLES_REFUSED = [
    ("", "it is empty"),
    ("22,5", "decimal point"),
    ("nan", "finite"),
    ("inf", "finite"),
    ("1e999", "finite"),
    ("0x10", "cannot be read"),
    ("1_0", "cannot be read"),
    ("２２", "digits 0 to 9"),
    ("1/0", "over 0"),
    ("22 3/2", "less than one"),
    ("410/220", "a fraction alone is no angle .410:220 is a slope"),
    ("410/220°", "a fraction alone is no angle .410:220 is a slope"),
    ("1/12", "a fraction alone is no angle .1:12 is a slope"),
    ("-1/2", "a fraction alone is no angle .1:2 is a slope"),
    ("22°60'", "less than 60"),
    ("22°30'60\"", "less than 60"),
    ("22°30.5'15\"", "must be whole"),
    ("22.5°30'", "cannot be read"),
    ("22°30", "cannot be read"),
    ('22°30"', "cannot be read"),
    ("30'", "cannot be read"),
    ("22.5 mm", "cannot be read"),
    ("22.5 rad", "cannot be read"),
    ("45 45", "cannot be read"),
    (math.nan, "finite"),
    (10**400, "finite"),
    (False, "number or text"),
    (None, "number or text"),
]


@pytest.mark.parametrize(("value", "cause"), ANGLES_REFUSED)
def test_angle_refused(value: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause) as refusal:
        angle(value, "miter")
    assert refusal.value.what == "miter"
    assert "22.5" in refusal.value.allowed


SLOPES = [
    ("1:1", 45.0),
    ("12 : 12", 45.0),
    ("0:12", 0.0),
    ("-1:1", -45.0),
    ("150 mm:0.15 m", 45.0),
    ('6":6"', 45.0),
    ("1'-6\" : 18 in", 45.0),
    ("3 1/2 : 3.5", 45.0),
    # 30-60 right triangle: tan 30 = 1/sqrt(3) = 0.577350269189626
    ("0.577350269189626:1", 30.0),
    # atan(3/4), the 3-4-5 triangle, as acos(4/5)
    ("3:4", math.degrees(math.acos(0.8))),
    ("300 mm : 400 mm", math.degrees(math.acos(0.8))),
    # atan(1/12) = 4.763642 deg by its series 1/12 - 1/12^3/3 + 1/12^5/5 - 1/12^7/7
    ("1:12", math.degrees(1 / 12 - 1 / 12**3 / 3 + 1 / 12**5 / 5 - 1 / 12**7 / 7 + 1 / 12**9 / 9)),
]


@pytest.mark.parametrize(("text", "degrees"), SLOPES)
def test_slope_angle(text: str, degrees: float) -> None:
    assert slope_angle(text, "left") == pytest.approx(degrees, abs=1e-9)


def test_a_level_slope_has_no_sign() -> None:
    assert math.copysign(1, slope_angle("-0:12", "left")) == 1


SLOPES_REFUSED = [
    ("", "one colon"),
    ("12", "one colon"),
    ("1:2:3", "one colon"),
    ("1 in 12", "one colon"),
    (":", "it is empty"),
    ("1:", "it is empty"),
    (":12", "it is empty"),
    ("1:0", "run must be more than 0"),
    ("1:-12", "run must be more than 0"),
    ("1:1e-999", "run must be more than 0"),
    ("1 m:12", "both sides or on neither"),
    ("1:12 mm", "both sides or on neither"),
    ("1,5:12", "decimal point"),
    ("nan:12", "finite"),
    ("1e999:12", "finite"),
    ("1e308 ft:12 ft", "finite"),
    ("1/0:12", "over 0"),
    ("x:12", "cannot be read"),
    (0.5, "must be text"),
    (None, "must be text"),
]


@pytest.mark.parametrize(("text", "cause"), SLOPES_REFUSED)
def test_slope_refused(text: object, cause: str) -> None:
    with pytest.raises(BadInput, match=cause) as refusal:
        slope_angle(text, "left")
    assert "1:12" in refusal.value.allowed
