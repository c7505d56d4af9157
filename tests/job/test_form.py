"""A job as a form: what it shows of a file, and the file that what is typed makes; the rest of the file stays."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from mitertool.base.errors import BadInput
from mitertool.job import load
from mitertool.job.form import JOB_FORM, begun
from mitertool.quantity.form import FormTable, typed
from mitertool.quantity.toml_place import line_of

GATE = Path(__file__).resolve().parents[2] / "gallery" / "boathouse-gate" / "job.toml"
TEXT = GATE.read_text(encoding="utf-8")


def block(table: str, number: int | None = None, text: str = TEXT) -> FormTable:
    return next(one for one in JOB_FORM.read(text, "job.toml") if (one.table, one.number) == (table, number))


def filled_in(text: str, name: str, table: str, number: int | None, given: dict[str, str]) -> str:
    return JOB_FORM.filled_in(text, name, {(table, number, key): value for key, value in given.items()})


def changed(before: str, after: str) -> list[str]:
    """The lines of the second text that differ, where both have as many."""
    return [b for a, b in zip(before.splitlines(), after.splitlines(), strict=True) if a != b]


def test_the_tables_of_a_job_in_the_order_of_filling_in() -> None:
    found = [(one.table, one.number) for one in JOB_FORM.read(TEXT, "job.toml")]
    assert found[:4] == [("job", None), ("frame", 0), ("frame", 1), ("piece", 0)]
    assert found[-1] == ("nest", None)


def test_values_as_they_are_typed() -> None:
    fields = {one.key: one.value for one in block("piece", 0).fields}
    assert (fields["mark"], fields["length"], fields["left"]) == ("STAY", "870", '{slope = "3:4"}')
    assert {one.key for one in block("piece", 0).spare} >= {"lay", "turn", "note"}


def test_a_frame_has_the_keys_of_its_shape() -> None:
    shown = block("frame", 0)
    keys = {one.key for one in shown.fields}
    assert {"width", "height", "root_gap", "shape"} <= keys and not keys & {"nodes", "bottom", "rise"}
    assert "hopper" in next(one for one in shown.fields if one.key == "shape").choices


def test_a_number_is_set_and_its_comment_stays() -> None:
    found = filled_in(TEXT, "job.toml", "piece", 0, {"length": "880"})
    assert [line.split("#")[0].strip() for line in changed(TEXT, found)] == ["length = 880"]


def test_what_is_typed_keeps_its_kind() -> None:
    """A text stays one though it looks like a number; a length may carry its unit; a cut may be a table in braces."""
    name = filled_in(TEXT, "job.toml", "job", None, {"name": "12"})
    assert tomllib.loads(name)["job"]["name"] == "12"
    feet = filled_in(TEXT, "job.toml", "piece", 0, {"length": "4' 6-1/2\""})
    assert tomllib.loads(feet)["piece"][0]["length"] == "4' 6-1/2\""
    cut = filled_in(TEXT, "job.toml", "piece", 0, {"left": '{ slope = "1:2" }'})
    assert tomllib.loads(cut)["piece"][0]["left"] == {"slope": "1:2"}
    assert load(GATE, cut.encode())


def test_what_is_not_changed_changes_nothing() -> None:
    given = {one.key: one.value for one in block("piece", 0).fields}
    assert filled_in(TEXT, "job.toml", "piece", 0, given) == TEXT


def test_a_key_that_is_emptied_goes() -> None:
    found = filled_in(TEXT, "job.toml", "frame", 0, {"root_gap": ""})
    assert "root_gap" not in tomllib.loads(found)["frame"][0]


def test_a_piece_more_and_one_less() -> None:
    more = JOB_FORM.added(
        TEXT, "job.toml", "piece", {"mark": "NEW", "section": "FLAT 50x10", "length": "400", "left": "30"}
    )
    assert [order.mark for order in load(GATE, more.encode()).pieces][-1] == "NEW"
    assert tomllib.loads(JOB_FORM.taken_away(more, "job.toml", "piece", 2)) == tomllib.loads(TEXT)


def test_a_new_job_is_one() -> None:
    piece = {"mark": "A", "section": "SHS 50x50x3", "length": 500, "left": 45}
    text = begun("Stand", {"units": "mm"}, [("piece", piece)])
    assert load(Path("new.toml"), text.encode()).pieces[0].piece.left.miter == 45


@pytest.mark.parametrize(
    ("was", "becomes", "line"),
    [
        ("length = 870", 'length = "x"', 'length = "x"'),
        ("height = 1840", "height = -5", "height = -5"),
        ('mark = "STAY"', 'mark = "STAY"\nlenght = 3', "lenght = 3"),
        ("format = 1", "format = [", "format = ["),
        ('shape = "rectangle"', 'shape = "square"', 'shape = "square"'),
    ],
)
def test_an_error_is_shown_at_its_line(was: str, becomes: str, line: str) -> None:
    text = TEXT.replace(was, becomes, 1)
    with pytest.raises(BadInput) as refused:
        load(GATE, text.encode(), lambda named: named)
    found = line_of(text, refused.value)
    assert found is not None and found.text.split("#")[0].strip() in (line, "[job]")
    assert text.splitlines()[found.number - 1] == found.text


def test_typed_is_what_the_file_has() -> None:
    assert [typed(one) for one in (None, "a", 4, 4.5, True, [1, 2])] == ["", "a", "4", "4.5", "true", "[1, 2]"]


@pytest.mark.parametrize(
    "change",
    [
        lambda: filled_in(TEXT, "f", "piece", 9, {"length": "1"}),
        lambda: filled_in(TEXT, "f", "piece", None, {"length": "1"}),
        lambda: filled_in("piece = 3\n", "f", "piece", 0, {"length": "1"}),
        lambda: JOB_FORM.taken_away(TEXT, "f", "stock", 7),
        lambda: JOB_FORM.added(TEXT, "f", "job", {"name": "x"}),
        lambda: JOB_FORM.added("piece = 3\n", "f", "piece", {"mark": "x"}),
    ],
)
def test_a_table_that_is_not_there_is_refused(change: Callable[[], str]) -> None:
    with pytest.raises(BadInput):
        change()
