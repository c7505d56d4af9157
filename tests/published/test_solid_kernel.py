"""Compound cuts against a general-purpose solid kernel.

Source: 23 pieces modelled and measured with Open CASCADE (cadquery-ocp 8.0.1.1): the section as a face with true
arcs, extruded, trimmed by two planes, and area, perimeter, volume and extents asked of the solid. Certainty:
COMPUTED, by an independent program and an independent method; no printed table of compound cuts of rolled sections
was found. Conventions stand in the file and are those of this package.

Tolerance: each value has its own in the file: 1e-9 relative (or of 1), which is the kernel's own modelling tolerance of
1e-7 mm on sizes of 100 mm, and 1e-8 for the largest contact, which it can only approach from inside the material.
"""

from __future__ import annotations

import pytest

from tests.published.solid_kernel import CASES, Case, check_value, found, piece_of

VALUES = [(case, name) for case in CASES.values() for name in case["expected"]]


@pytest.mark.parametrize(("case", "name"), VALUES, ids=[f"{case['id']}-{name}" for case, name in VALUES])
def test_value(case: Case, name: str) -> None:
    check_value(case, name)


def test_every_value_of_every_case_is_asked() -> None:
    assert len(CASES) == 23
    for case in CASES.values():
        assert {name for name, _ in found(case)} == set(case["expected"]) == set(case["tol"])


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_length_at_the_corner_of_the_box(case: Case) -> None:
    """s is given; the line it belongs to need not have material."""
    assert piece_of(case).s == pytest.approx(case["s"], abs=1e-9)
