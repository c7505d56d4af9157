"""Names taken apart."""

from __future__ import annotations

import pytest

from mitertool.sections.designation import parse


@pytest.mark.parametrize(
    ("name", "words", "numbers"),
    [
        ("RHS 80x40x3", {"rhs"}, (80, 40, 3)),
        ("rhs80X40×3", {"rhs"}, (80, 40, 3)),
        ("80 by 40 by 3 RHS", {"rhs"}, (80, 40, 3)),
        ("IPE-200", {"ipe"}, (200,)),
        ("FLAT 1-1/2x1/4", {"flat"}, (1.5, 0.25)),
        ("FLAT 1 1/2 x 3/16", {"flat"}, (1.5, 0.1875)),
        ("HSS4x2x.25", {"hss"}, (4, 2, 0.25)),
        ("PIPE 1/2 SCH 40", {"pipe", "sch"}, (0.5, 40)),
        ("NPS 2 Schedule 40", {"pipe", "sch"}, (2, 40)),
        ("L 2-1/2x2x3/16", {"l"}, (2.5, 2, 0.1875)),
        ("", frozenset(), ()),
    ],
)
def test_words_and_numbers(name: str, words: set[str], numbers: tuple[float, ...]) -> None:
    found = parse(name)
    assert found.words == words
    assert found.numbers == pytest.approx(numbers)


@pytest.mark.parametrize(
    ("name", "standard"),
    [
        ("RHS 80x40x3", ""),
        ("RHS 80x40x3 EN 10210", "en10210"),
        ("RHS 80x40x3 EN10210-2", "en102102"),
        ("EN 10219-2:2006 SHS 50x50x3", "en1021922006"),
        ("L 50x50x5 DIN 1028", "din1028"),
    ],
)
def test_the_standard_is_no_size(name: str, standard: str) -> None:
    assert parse(name).standard == standard
    assert len(parse(name).numbers) == 3


@pytest.mark.parametrize(
    ("name", "unit"), [("ROUND 20 mm", "mm"), ('ROUND 1"', "in"), ("ROUND 1 inch", "in"), ("ROUND 1", "")]
)
def test_the_unit_is_no_family(name: str, unit: str) -> None:
    assert parse(name).unit == unit
    assert parse(name).words == {"round"}
