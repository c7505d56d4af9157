"""`saw check` says what it understood and asks about unlikely figures; `saw draw` stands in the units of the file.

By hand: 5 and 7 teeth an inch are 0.2 and 0.142857 inch apart; 5 mm2 are 0.00775 in2; what is usual is common practice,
no source.
"""

from __future__ import annotations

from pathlib import Path

from tests.cli.test_at_the_saw import Call
from tests.saw.test_shop_numbers import written


def test_check_prints_it_and_asks(tmp_path: Path, call: Call) -> None:
    path = written(tmp_path, "area_rate = 5", "in", "0.15")
    said = call("saw", "check", str(path))
    assert said.code == 0
    asked = [line for line in said.out.splitlines() if line.startswith("question: ")]
    assert asked == [
        'question: [saw] kerf is read as 0.15"; usual is 0.0197" to 0.1181". Is it right?',
        "question: [blade] area_rate is read as 0.00775 in2/min; "
        "usual is 0.155 to 93 in2/min. Is it right? A rate without a unit is mm2/min.",
    ]
    answer = call("saw", "check", str(path), "--json").json
    assert [(one["table"], one["key"]) for one in answer["questions"]] == [("saw", "kerf"), ("blade", "area_rate")]
    (kerf,) = (one for one in answer["keys"] if one["table"] == "saw" and one["key"] == "kerf")
    assert (kerf["found"], kerf["read"]) == (["0.15"], ['0.15"'])


def test_another_way_of_writing_is_told_beside(tmp_path: Path, call: Call) -> None:
    out = call("saw", "check", str(written(tmp_path, 'teeth_per_inch = "5/7"', "in", '"1/16"'))).out
    assert '0.0625" (written 1/16)' in out
    assert '5 to 7 teeth an inch, 0.2" to 0.1429" apart (written 5/7)' in out


def test_a_drawing_of_an_inch_saw_is_in_inches(tmp_path: Path, call: Call) -> None:
    """A tube of 2 inches lies 2.000 wide; asked for in mm, 50.8."""
    path, sketch = written(tmp_path, "", "in", "0.05"), tmp_path / "saw.dxf"
    given = ["saw", "draw", str(path), "--sketch", str(sketch), "--section", "HSS2x2x1/8"]
    assert call(*given).code == 0
    assert '2.000"' in sketch.read_text()
    assert call(*given, "--units", "mm", "--force").code == 0
    assert "50.8" in sketch.read_text()
    assert '2.000"' not in sketch.read_text()
