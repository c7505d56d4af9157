"""`nest` without a job: a piece and a bar. Numbers by hand, as in tests/nest/test_how_many.py."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]
SQUARE = ("nest", "--section", "SHS 40x40x3", "--length", "300", "--bar", "1000", "--saw", "none")
GRIPPED = (*SQUARE, "--kerf", "2", "--trim", "10", "--grip", "50")


def test_pieces_used_and_left_over(call: Call) -> None:
    said = call(*GRIPPED)
    assert (said.code, said.err) == (0, "")
    rows = [line.split("  ", 1) for line in said.out.splitlines()]
    assert [(word, value.strip()) for word, value in rows] == [
        ("pieces a bar", "3"),
        ("used", "916 of 1000"),
        ("left over", "84"),
        ("leading cuts", "as drawn at 10, as drawn at 312, as drawn at 614"),
        ("tip to tip", "3 a bar"),
    ]


def test_one_json_object(call: Call) -> None:
    """With slopes of 45 degrees, W = 40: 20 at either end, 260 on the centerline of a long point of 300, and kerfs of
    2 * sqrt(2): 3 pieces take 20 + 780 + 3 * 2.828 + 20."""
    told = call(*SQUARE, "--kerf", "2", "--left", "45", "--right", "45", "--json").json
    used = 20 + 3 * 260 + 3 * 2 * 2**0.5 + 20
    assert (told["pieces_a_bar"], told["tip_to_tip"], told["bar_mm"]) == (3, 3, 1000)
    assert (told["used_mm"], told["left_over_mm"], told["left_over_longest_mm"]) == pytest.approx(
        (used, 1000 - used, 1040 - used)
    )
    assert [one["pose"] for one in told["pieces"]] in (["as-drawn", "end-for-end", "as-drawn"], ["rolled"] * 3)


def test_a_saw_gives_kerf_and_grip_and_refuses_what_it_does_not_cut(call: Call, gate: str) -> None:
    saw = gate.replace("job.toml", "saw.toml")
    piece = ("nest", "--section", "SHS 40x40x3", "--length", "300", "--bar", "1000", "--saw", saw)
    assert call(*piece).code == 0
    steep = call(*piece, "--left", "80")
    assert (steep.code, steep.out) == (1, "")
    assert "swing" in steep.err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("nest",), "give a JOB, or --section"),
        (("nest", "--section", "SHS 40x40x3", "--length", "300"), "--bar"),
        (SQUARE, "--kerf"),
        ((*SQUARE, "--kerf", "2", "--second-kerf", "there"), "second_kerf"),
        (("nest", "job.toml", "--bar", "6000"), "job.toml has its own pieces"),
    ],
)
def test_bad_calls(call: Call, arguments: tuple[str, ...], words: str) -> None:
    said = call(*arguments)
    assert (said.code, said.out) == (2, "")
    assert words in said.err
