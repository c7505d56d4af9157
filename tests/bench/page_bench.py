"""How long the screen of one cut takes at the server, beside the bare calls of the library, and with many at once.

    .venv/bin/python -m tests.bench.page_bench        # all of it, about half a minute
    .venv/bin/python -m tests.bench.page_bench 20 5   # so many browsers, each dragging for so many seconds

A change of miter to the new picture is to take less than 100 ms in the middle, and at most twice the bare calls; each
miter is another one, so that nothing is kept from the one before. Start-up is beside a server of the same library that
answers one word.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from threading import Thread
from urllib.parse import urlencode
from urllib.request import Request, urlopen

from starlette.testclient import TestClient

from mitertool.cut import Cut
from mitertool.drawing import svg
from mitertool.packet.pages.cut_said import figure_rows
from mitertool.packet.pages.setting.blade_view import blade_view, moving_view
from mitertool.packet.pages.setting.load_chart import load_chart
from mitertool.packet.pages.setting.plan_view import plan_view
from mitertool.packet.pages.setting.vise_view import lettered_vise
from mitertool.packet.pages.setting.walk_down import walk_down
from mitertool.packet.pages.sketch.faces import true_face
from mitertool.packet.pages.sketch.two_views import views
from mitertool.page.app import page_app
from mitertool.page.folder import Folder
from mitertool.page.guard import Guard
from mitertool.piece import Piece
from mitertool.saw import Saw
from mitertool.sections import section

GALLERY = Path(__file__).resolve().parents[2] / "gallery"
SECTIONS = ("RHS 80x40x3", "CHS 60.3x3.2", "L 80x60x7", "UPN 120")
HEADERS = {"hx-request-type": "partial", "hx-source": "input#turn"}
ROUNDS = 40

BARE = """
import sys, socket, uvicorn
from starlette.applications import Starlette
from starlette.responses import PlainTextResponse
from starlette.routing import Route
made = socket.socket(); made.bind(("127.0.0.1", 0)); made.listen()
print(f"http://127.0.0.1:{made.getsockname()[1]}/", flush=True)
app = Starlette(routes=[Route("/", lambda request: PlainTextResponse("here"))])
uvicorn.Server(uvicorn.Config(app, lifespan="off", log_config=None, access_log=False)).run(sockets=[made])
"""


def tell(line: str) -> None:
    sys.stdout.write(line + "\n")


def taken(does: Callable[[float], object], start: float) -> float:
    """The middle of many rounds, each with another miter, ms."""
    times = []
    for i in range(ROUNDS):
        began = time.perf_counter()
        does(start + i * 0.37)
        times.append((time.perf_counter() - began) * 1000)
    return median(times)


def bare(name: str, saw: Saw) -> Callable[[float], object]:
    """What the screen shows, asked of the library itself, down to the text of the pictures."""
    bar = section(name)

    def one(miter: float) -> object:
        cut = Cut(miter)
        reach, face, piece = saw.reach(bar, cut), cut.face(bar), Piece(bar, 500.0, Cut(), cut)
        drawn = [
            plan_view(reach, 96.0, 56.0, "mm"),
            blade_view(reach, 96.0, 50.0),
            moving_view(reach, reach.arm_lift or 0.0, 96.0, 50.0),
            load_chart(reach, 96.0, 46.0, reach.arm_lift),
            lettered_vise(reach.section, 96.0, 46.0, reach.pack),
            true_face(cut, bar, None, 2.0, "mm"),
            views(piece, 6.0, "mm")[0],
        ]
        return walk_down(reach, "mm"), figure_rows(face, cut, saw.kerf, reach, "mm"), [svg.inline(d, "") for d in drawn]

    return one


def asked(name: str, client: TestClient) -> Callable[[float], object]:
    """The same of the page, without a network."""

    def one(miter: float) -> object:
        query = {"section": name, "turn": f"{miter:.2f}", "saw": "saws/hinged.toml"}
        answer = client.get("/cut", params=query, headers=HEADERS)
        assert answer.status_code == 200
        return answer

    return one


def one_browser() -> None:
    """The middle of the page and of the library, by section."""
    saw = Saw.load(GALLERY / "saws" / "hinged.toml")
    host = "127.0.0.1:8472"
    client = TestClient(Guard(page_app(Folder.of(GALLERY)), frozenset({host})), base_url=f"http://{host}")
    for name in SECTIONS:
        library, page = bare(name, saw), asked(name, client)
        library(9.0), page(9.5)
        of_library, of_page = taken(library, 10.0), taken(page, 10.1)
        tell(f"{name:14} page {of_page:6.1f} ms, library {of_library:6.1f} ms, {of_page / of_library:.2f} times")


@contextmanager
def running(command: list[str]) -> Iterator[tuple[str, float]]:
    """A server with its address, and how long it took until the first page was there, s."""
    began = time.perf_counter()
    with subprocess.Popen([sys.executable, *command], stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        address = server.stdout.readline().strip()
        with urlopen(address) as answer:
            answer.read()
        yield address, time.perf_counter() - began
        server.terminate()


def served() -> list[str]:
    return ["-m", "mitertool", "page", str(GALLERY), "--port", "0", "--no-browser"]


def start_up(pairs: int = 5) -> None:
    """Start to first page, beside a bare server of the same library."""
    found = []
    for _ in range(pairs):
        with running(served()) as (_, ours), running(["-c", BARE]) as (_, other):
            found.append((ours, other))
    ours, other = (median(times) for times in zip(*found, strict=True))
    tell(f"start to first page {ours:.2f} s, a bare server {other:.2f} s, {ours / other:.2f} times")


def many(browsers: int, seconds: float) -> None:
    """Every browser drags: it asks for the next miter as soon as it has the last one."""
    times: list[float] = []
    with running(served()) as (address, _):
        until = time.perf_counter() + seconds

        def drag(number: int) -> None:
            miter = 5.0 + number
            while time.perf_counter() < until:
                miter = 5.0 + (miter + 0.61) % 50
                name = SECTIONS[number % len(SECTIONS)]
                query = urlencode({"section": name, "turn": f"{miter:.2f}", "saw": "saws/hinged.toml"})
                began = time.perf_counter()
                with urlopen(Request(f"{address}cut?{query}", headers=HEADERS)) as answer:
                    answer.read()
                times.append(time.perf_counter() - began)

        threads = [Thread(target=drag, args=(number,)) for number in range(browsers)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    ordered = sorted(times)
    tell(
        f"{browsers} browsers: {len(times)} answers, middle {median(times):.2f} s, "
        f"nine in ten within {ordered[len(ordered) * 9 // 10]:.2f} s, longest {ordered[-1]:.2f} s"
    )


if __name__ == "__main__":
    many_browsers, for_seconds = (int(sys.argv[1]), float(sys.argv[2])) if len(sys.argv) > 2 else (20, 5.0)
    one_browser()
    start_up()
    many(many_browsers, for_seconds)
