"""The one place where text becomes mm, degrees or a number, and where they become text; knows only base."""

from mitertool.quantity.angles import angle, angle_from_zero, slope_angle
from mitertool.quantity.lengths import length, length_from_zero, positive_length
from mitertool.quantity.numerals import count, number_from_zero, plain_number
from mitertool.quantity.show import (
    rounded_length,
    show_angle,
    show_angle_limit,
    show_area,
    show_exact,
    show_gap,
    show_length,
    show_limit,
    show_mass,
    show_mass_per_length,
)
from mitertool.quantity.units import UNITS, Units, units

__all__ = [
    "UNITS",
    "Units",
    "angle",
    "angle_from_zero",
    "count",
    "length",
    "length_from_zero",
    "number_from_zero",
    "plain_number",
    "positive_length",
    "rounded_length",
    "show_angle",
    "show_angle_limit",
    "show_area",
    "show_exact",
    "show_gap",
    "show_length",
    "show_limit",
    "show_mass",
    "show_mass_per_length",
    "slope_angle",
    "units",
]
