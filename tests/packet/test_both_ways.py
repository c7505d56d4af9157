"""A mark whose ends differ and whose pieces lie end for end on one bar says so, on paper and page."""

from __future__ import annotations

from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import ROOT


def test_only_the_stay_of_the_gate_lies_both_ways() -> None:
    """By hand: of the six marks of the gate the ends of STAY alone differ, and its four share cuts turned in turn."""
    solution = solve(load(ROOT / "gallery" / "boathouse-gate" / "job.toml"))
    paper = [box.says for page in cut_sheet(solution) for box in page.drawing.text_boxes()]
    page = packet_files(solution, Options())["cut-sheet.html"].decode("utf-8")
    assert paper.count("also end for end") == page.count("also end for end") == 1
    assert ">STAY</h3>" in page.split("also end for end")[0].rsplit("<li", 1)[1]
