"""Benchmark of the packet: `python -m tests.bench.packet_bench [--rounds N] [--marks 10,50,200]`.

A job of so many marks and ten times as many pieces of many sections, without stock and so without bars, is written two
ways, each in a process of its own, the two in turn: by mitertool (load, solve, write), and bare. Bare is a plain
program that is handed every line, curve and text of a page, every group of a DXF file and every word and number of the
page for a browser, and writes the same files from them: PDF by the same library's public calls, all else as text. It
composes nothing, reads its lists by `marshal`, the fastest that there is, and the collector of cycles is off. Another
process, which is not measured, takes those lists from what mitertool writes. Imports count on both sides, and what a
second process takes that mitertool begins. Printed: medians of wall and processor seconds, their ratios, and the
largest peak memory of each.
"""

from __future__ import annotations

import argparse
import csv
import gc
import json
import marshal
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Any, Final, NamedTuple

ROOT: Final = Path(__file__).resolve().parents[2]
MARKS: Final = "10,50,200"
EACH: Final = 10
"""Pieces a mark, on average."""

MM: Final = 72 / 25.4
"""PDF points in a mm."""

SECTIONS: Final = (
    *("RHS 80x40x3", "SHS 60x60x4", "CHS 60.3x3.2", "L 65x50x5", "UPN 100", "IPE 120", "FLAT 60x10"),
    *("RHS 40x60x3", "SHS 40x40x3", "CHS 88.9x4", "L 50x50x5", "UPN 80", "IPE 100", "FLAT 50x10"),
)
MITERS: Final = (45, 30, 22.5, 33.69, 15, 50, 41.3)
BEVELS: Final = (10, 15, 22.5)
FRAMED: Final = ("RHS 80x40x3", "SHS 60x60x4", "RHS 60x40x3", "SHS 40x40x3")
OF_A_KIND: Final = 5
OPPOSITE: Final = 4


class Cost(NamedTuple):
    """What a process took: wall and processor seconds, peak memory in MB."""

    wall: float
    cpu: float
    memory: float


def job_text(count: int) -> str:
    """Frames of two marks each, then single marks, some of them beveled and with an opposite hand."""
    head = 'format = 1\n[job]\nname = "Many marks"\nrevision = "A"\nunits = "mm"\nsaw = "saw.toml"\n'
    tables = [frame_table(n, section) for n, section in enumerate(FRAMED, 1)]
    marks, pieces, n = count - 2 * len(FRAMED), EACH * count - 4 * OF_A_KIND * len(FRAMED), 0
    while marks > 0:
        opposite = OPPOSITE if is_handed(n) and marks > 1 else 0
        marks -= 2 if opposite else 1
        quantity = pieces - opposite if marks == 0 else (4, 10, 16)[n % 3]
        pieces -= quantity + opposite
        tables.append(piece_table(n, quantity, opposite))
        n += 1
    return "\n".join((head, *tables))


def frame_table(n: int, section: str) -> str:
    what = f'mark = "FRAME-{n}"\nshape = "rectangle"\nsection = "{section}"\ngrade = "S235JRH"\n'
    size = f'width = {1180 + 130 * n}\nheight = {740 + 90 * n}\nmeasured = "outside"\n'
    return f"[[frame]]\n{what}{size}quantity = {OF_A_KIND}\n"


def piece_table(n: int, quantity: int, opposite: int) -> str:
    section, miter = SECTIONS[n % len(SECTIONS)], MITERS[n // 7 % len(MITERS)]
    left = 0 if n % 4 == 0 else -miter if section.startswith("L") else miter
    right = f"{{ miter = {miter}, bevel = {BEVELS[n % 3]} }}" if is_beveled(n) else f"{miter}"
    what = f'mark = "M-{n + 1}"\nsection = "{section}"\ngrade = "S235JR"\nlength = {420 + 37.5 * (n % 200)}\n'
    return f"[[piece]]\n{what}left = {left}\nright = {right}\nquantity = {quantity}\nopposite = {opposite}\n"


def is_beveled(n: int) -> bool:
    return n % 8 == 5


def is_handed(n: int) -> bool:
    """Whether a mark is given with its opposite hand: beveled, of a section that a mirror does not bring back."""
    return is_beveled(n) and SECTIONS[n % len(SECTIONS)].startswith(("RHS", "UPN"))


def by_mitertool(job: Path, out: Path) -> None:
    """The packet: load, solve, write."""
    from mitertool.job import load, solve
    from mitertool.packet.packet import write_packet

    write_packet(solve(load(job)), out)


# What a bare program is given: by file name, the lists of a PDF, the groups of a DXF file, a table, a record, a text.
Lists = Mapping[str, Any]


def lists_of(job: Path, out: Path) -> Lists:
    """Everything that the packet of `job`, written as `out` by this process alone, consists of, as plain lists."""
    from mitertool.base import beside
    from mitertool.drawing import pdf
    from mitertool.job import load, solve
    from mitertool.packet.packet import write_packet

    pages: dict[bytes, Any] = {}
    write = pdf.write

    def kept(given: Iterable[Any], *more: Any) -> bytes:
        shown = tuple(given)
        made = write(shown, *more)
        pages[made] = [page_lists(page) for page in shown]
        return made

    pdf.write = kept  # type: ignore[assignment]
    beside._may_fork = lambda: False
    solution = solve(load(job))
    if solution.problems:
        raise SystemExit(f"the job is not what it should be: {solution.problems}")
    names = write_packet(solution, out)
    return {name: file_lists(name, (out / name).read_bytes(), pages) for name in names}


def file_lists(name: str, content: bytes, pages: Mapping[bytes, Any]) -> Any:
    """What a file holds, each number as a number."""
    kind = Path(name).suffix
    if kind == ".pdf":
        return pages[content]
    text = content.decode()
    if kind == ".json":
        return json.loads(text)
    if kind == ".csv":
        return list(csv.reader(text.splitlines()))
    if kind == ".dxf":
        lines = text.splitlines()
        return [(code, as_number(value)) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    return [as_number(part) for part in re.split(r"(-?\d+\.\d+)", text)]


def as_number(text: str) -> Any:
    return float(text) if re.fullmatch(r"-?\d+\.\d+", text) and repr(float(text)) == text else text


def page_lists(page: Any) -> Any:
    """A page's width and height, mm, and in the order they are drawn its shapes and texts."""
    return page.width, page.height, [part_list(part) for part in page.drawing.primitives()]


def part_list(part: Any) -> Any:
    """A shape with its pen (width, grey, dashes), or a text with its place, turn, font, size and grey."""
    from mitertool.drawing import Line, Polygon, Polyline, Text
    from mitertool.drawing.lettering import font_size

    if isinstance(part, Text):
        font = "Helvetica-Bold" if part.bold else "Helvetica"
        return "text", *part.origin, part.turn, font, font_size(part.height), part.layer.grey, part.says
    pen = (part.layer.weight, part.layer.grey, part.layer.dashes)
    if isinstance(part, Line):
        return "line", pen, *part.a, *part.b
    if isinstance(part, Polygon):
        return "polygon", pen, part.points, part.fill
    if isinstance(part, Polyline):
        return "polyline", pen, part.points
    return "curve", pen, part.curve.ends()[0], part.curve.beziers(), part.curve.closed


def bare(lists: Lists, out: Path) -> None:
    """The same files straight from the lists."""
    writers = {".pdf": bare_pdf, ".dxf": bare_dxf, ".csv": bare_csv, ".json": bare_json, ".html": bare_html}
    for name, content in lists.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        writers[Path(name).suffix](out / name, content)


def bare_csv(path: Path, content: Any) -> None:
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file, lineterminator="\n").writerows(content)


def bare_json(path: Path, content: Any) -> None:
    path.write_text(json.dumps(content, indent=1, ensure_ascii=False), encoding="utf-8")


def bare_pdf(path: Path, content: Any) -> None:
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0  # as mitertool: the text form of a stream would make the bare program much slower
    canvas = Canvas(str(path), pageCompression=1)
    for width, height, parts in content:
        canvas.setPageSize((width * MM, height * MM))
        canvas.scale(MM, MM)
        canvas.setLineJoin(1)
        bare_page(canvas, parts)
        canvas.showPage()
    canvas.save()


def bare_page(canvas: Any, parts: Iterable[Any]) -> None:
    pen = font = fill = None
    for kind, *rest in parts:
        if kind == "text":
            x, y, turn, name, size, grey, says = rest
            if (name, size) != font:
                font = (name, size)
                canvas.setFont(name, size)
            if grey != fill:
                fill = grey
                canvas.setFillGray(grey)
            bare_text(canvas, x, y, turn, says)
            continue
        if rest[0] != pen:
            pen = rest[0]
            bare_pen(canvas, *pen)
        if kind == "polygon" and rest[2] not in (None, fill):
            fill = rest[2]
            canvas.setFillGray(fill)
        BARE_SHAPES[kind](canvas, *rest)


def bare_pen(canvas: Any, weight: float, grey: float, dashes: list[float]) -> None:
    canvas.setLineWidth(weight)
    canvas.setStrokeGray(grey)
    canvas.setLineCap(0 if dashes else 1)
    canvas.setDash(list(dashes))


def bare_text(canvas: Any, x: float, y: float, turn: float, says: str) -> None:
    if turn:
        canvas.saveState()
        canvas.translate(x, y)
        canvas.rotate(turn)
        canvas.drawString(0, 0, says)
        canvas.restoreState()
    else:
        canvas.drawString(x, y, says)


def bare_polygon(canvas: Any, pen: Any, points: Any, fill: float | None) -> None:
    path = bare_path(canvas, points)
    path.close()
    canvas.drawPath(path, stroke=int(pen[0] > 0), fill=int(fill is not None))


def bare_polyline(canvas: Any, _pen: Any, points: Any) -> None:
    canvas.drawPath(bare_path(canvas, points))


def bare_path(canvas: Any, points: Any) -> Any:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    return path


def bare_curve(canvas: Any, _pen: Any, start: Any, bends: Any, closed: bool) -> None:
    path = canvas.beginPath()
    path.moveTo(*start)
    for first, second, end in bends:
        path.curveTo(*first, *second, *end)
    if closed:
        path.close()
    canvas.drawPath(path)


BARE_SHAPES: Final[Mapping[str, Callable[..., None]]] = {
    "line": lambda canvas, _pen, *ends: canvas.line(*ends),
    "polygon": bare_polygon,
    "polyline": bare_polyline,
    "curve": bare_curve,
}


def bare_dxf(path: Path, content: Any) -> None:
    text = "".join([f"{code}\n{value if type(value) is str else repr(value)}\n" for code, value in content])
    path.write_text(text, encoding="utf-8")


def bare_html(path: Path, content: Any) -> None:
    path.write_text("".join([part if type(part) is str else repr(part) for part in content]), encoding="utf-8")


def measured(role: str, *paths: Path) -> Cost:
    """What a process of its own takes to play a role."""
    begin = perf_counter()
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    command = [sys.executable, "-m", "tests.bench.packet_bench", role, *map(str, paths)]
    child = subprocess.Popen(command, cwd=ROOT, env=kept)
    _, status, usage = os.wait4(child.pid, 0)
    wall = perf_counter() - begin
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise SystemExit(f"{role} failed")
    return Cost(wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def compared(count: int, rounds: int) -> Iterator[str]:
    """The lines to print of so many marks; every round writes both ways into a folder of its own."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        job, lists = folder / "job.toml", folder / "lists"
        job.write_text(job_text(count), encoding="utf-8")
        shutil.copy(ROOT / "gallery" / "saws" / "hinged.toml", folder / "saw.toml")
        measured("lists", job, folder / "first", lists)
        packets, bares = [], []
        for n in range(rounds):
            packets.append(measured("packet", job, folder / f"packet-{n}"))
            bares.append(measured("bare", lists, folder / f"bare-{n}"))
        yield files_line(folder / "packet-0")
        yield files_line(folder / "bare-0")
    yield cost_line("packet", packets)
    yield cost_line("bare", bares)
    ratio = [middle(packets, what) / middle(bares, what) for what in ("wall", "cpu")]
    yield f"{count} marks, packet / bare: wall {ratio[0]:.2f}, processor {ratio[1]:.2f}"


def files_line(folder: Path) -> str:
    files = [path for path in folder.rglob("*") if path.is_file() and not path.name.startswith(".")]
    return f"{folder.name}: {len(files)} files, {sum(path.stat().st_size for path in files) / 1e6:.1f} MB"


def cost_line(name: str, costs: list[Cost]) -> str:
    walls = ", ".join(f"{cost.wall:.2f}" for cost in costs)
    times = f"wall {middle(costs, 'wall'):.2f} s ({walls}), processor {middle(costs, 'cpu'):.2f} s"
    return f"{name}: {times}, peak memory {max(cost.memory for cost in costs):.0f} MB"


def middle(costs: list[Cost], what: str) -> float:
    return float(median(getattr(cost, what) for cost in costs))


def play(role: str, paths: list[Path]) -> None:
    """One role in this process."""
    if role == "packet":
        by_mitertool(*paths)
    elif role == "bare":
        gc.disable()
        bare(marshal.loads(paths[0].read_bytes()), paths[1])
    else:
        paths[2].write_bytes(marshal.dumps(lists_of(*paths[:2])))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("role", nargs="?", help=argparse.SUPPRESS)
    parser.add_argument("paths", nargs="*", type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--marks", default=MARKS)
    args = parser.parse_args()
    if args.role:
        play(args.role, args.paths)
    else:
        for count in map(int, args.marks.split(",")):
            sys.stdout.writelines(f"{line}\n" for line in compared(count, args.rounds))


if __name__ == "__main__":
    main()
