"""Lists of parts at the command line: by themselves, named by a job, and a line for every bad row."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tests.cli.conftest import Said

HEAD = "Mark,Section,Length,Qty"
Call = Callable[..., Said]


def test_a_job_names_its_lists(tmp_path: Path, call: Call) -> None:
    (tmp_path / "parts.csv").write_text("Pos;Profil;Tip to tip;Menge;L;R\nA1;RHS 80x40x3;1200,5;4;45;135\n")
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "week"\n[[list]]\nfile = "parts.csv"\nangles = "from bar"\n'
        'columns = { left = "L", right = "R" }\n'
    )
    said = call("check", str(tmp_path / "job.toml"))
    assert said.code == 0
    row = next(line for line in said.out.splitlines() if line.startswith("2 "))
    assert {"1200,5", "1160.5", "RHS", "45°", "-45°"} <= set(row.replace(",", " ").split()) | set(row.split())


def test_check_takes_a_list_by_itself(tmp_path: Path, call: Call) -> None:
    path = tmp_path / "parts.csv"
    path.write_text("Pos;Profil;Tip to tip;Menge;L;R;Weight\nA1;RHS 80x40x3;1200,5;4;45;135;7\n")
    said = call("check", str(path), "--angles", "from bar", "--columns", "left=L,right=R")
    assert said.code == 0
    assert "columns not read: Weight" in said.out
    job = tmp_path / "job.toml"
    job.write_text('[job]\nname = "week"\n' + said.out[said.out.index("[[list]]") :].split("Caution")[0])
    assert call("check", str(job)).code == 0


def test_bad_rows_are_lines_of_their_own(tmp_path: Path, call: Call) -> None:
    path = tmp_path / "parts.csv"
    path.write_text(HEAD + "\n" + "".join(f"A{i},RHS 80x40x3,x,1\n" for i in range(150)))
    said = call("check", str(path))
    lines = said.err.splitlines()
    assert (said.code, len(lines), said.out) == (2, 101, "")
    assert "C101" in lines[99]
    assert lines[100].endswith("and 50 more")


def test_the_echo_says_across_which_side_and_at_which_jaw_a_miter_is(tmp_path: Path, call: Call) -> None:
    """A tube named 80x40 stands on its 40, named 40x80 it lies on its 80; an angle's other hand is its mirror image."""
    rows = ("A1,RHS 80x40x3,4,45,45,", "A2,RHS 40x80x3,4,-30,0,", "A3,L 50x50x5,1,30,-45,1", "A4,SHS 50x50x3,2,30,0,2")
    table = "Mark,Section,Qty,Left,Right,Opposite,Length\n" + "".join(f"{row},900\n" for row in rows)
    (tmp_path / "parts.csv").write_text(table)
    said = call("check", str(tmp_path / "parts.csv"), "--angles", "from square", "--at", "long-point")
    told = {line.split()[1]: line for line in said.out.splitlines()[1:6] if line.split()[0].isdecimal()}
    assert "long at the moving jaw" in told["A1"]
    assert "across the 40 side: stands on its narrow side" in told["A1"]
    assert "long at the fixed jaw" in told["A2"]
    assert "across the 80 side: lies on its wide side" in told["A2"]
    assert "left long at the moving jaw, right at the fixed" in told["A3"]
    assert "1 of L 50x50x5 A3-OH, the mirror image" in told["A3"]
    assert "heel at the bottom, fixed-jaw side" in told["A3"]
    assert "4 of SHS 50x50x3 A4: both hands are one piece" in told["A4"]
