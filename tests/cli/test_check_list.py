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
