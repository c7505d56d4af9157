"""Requests by lot to every screen of the page, COUNT of them from SEED: no answer is a fault, whatever is typed where.

Values are those that are often wrong: empty, no number, too large, of another kind, markup, paths out of the folder.
"""

from __future__ import annotations

import random
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from attrs import fields_dict
from starlette.testclient import TestClient

from mitertool.page.app import page_app
from mitertool.page.cut_asked import CutAsked
from mitertool.page.folder import Folder
from mitertool.page.frame_asked import USUAL, keys_of
from mitertool.saw.file.keys import TABLES

ROOT = Path(__file__).resolve().parents[2]
HERE = "http://127.0.0.1"
VALUES = (
    *("", "0", "-1", "nan", "inf", "1e400", "9" * 400, "1e9", "1e-9", "360", "45", "x", "true", "\n", "\x00", "é"),
    *("<b>", '"', "'''", "[1,2", "[[1,2],[3,4]]", "{a=1}", "1;2;3", "1 2 3", "0,0 1,1 2", "a=1\nb=2", "[a]\n"),
    *("SHS 50x50x3", "CHS 60.3x4", "L 50x50x5", "outside", "miter", "90 corner", "3:4", "bars='brace'", "ft-in"),
    *("../x", "/etc/passwd", "saws/hinged.toml"),
)
JOBS = ("boathouse-gate/job.toml", "keel-jig/job.toml", "saws/hinged.toml")
SAWS = ("saws/hinged.toml", "saws/column.toml", "boathouse-gate/job.toml")


class Asked(NamedTuple):
    """A request: where, with what, and whether it is a form that is sent."""

    path: str
    given: dict[str, str]
    sent: bool = False


SECTIONS = (
    *(
        "UPN 120",
        "STRAKE",
        "OLD TUBE @ keel-jig/job.toml",
        "keel-jig/strake.dxf",
        "loft-window/window.dxf",
        "X @ x.toml",
    ),
)


def asked(lot: random.Random) -> Iterator[Asked]:
    """Requests without end."""

    def some(*names: str) -> dict[str, str]:
        return {name: lot.choice(VALUES) for name in lot.sample(names, min(2, len(names)))}

    while True:
        shape = lot.choice(list(USUAL))
        frame = {"shape": shape, "saw": lot.choice(("", *SAWS[:2])), **USUAL[shape], **some(*keys_of(shape))}
        table = lot.choice(list(TABLES))
        key = f"{table}|{lot.choice(('', '0', '1', '99'))}|{lot.choice(list(TABLES[table].keys))}"
        saw = {"file": lot.choice(SAWS), key: lot.choice(VALUES), **some("look-section", "look-miter", "table")}
        job = {"file": lot.choice(JOBS), "table": lot.choice(("piece", "frame", "job", "stock", "nest", "x"))}
        job |= {"number": lot.choice(("", "0", "7")), "do": lot.choice(("set", "add", "take"))}
        cut = {"section": lot.choice(SECTIONS), "saw": lot.choice(("", *SAWS)), **some(*fields_dict(CutAsked))}
        yield Asked(lot.choice(("/cut", "/cut/blade")), cut)
        yield Asked("/frame", frame)
        yield Asked("/frame/save", {**frame, **some("job-mark", "job-stock", "job-kerf", "job-quantity")}, True)
        yield Asked("/corner", some("first", "second", "angle", "slopes", "to", "tops", "units"))
        yield Asked("/practice", {"saw": SAWS[0], "set": "3", **some("set", "question", "answer", "right", "job")})
        yield Asked("/first-piece", {"file": JOBS[0], "mark": "STAY", **some("long", "short", "left", "way", "mark")})
        yield Asked("/saw/draw", saw, True)
        yield Asked("/saw/save", {**saw, "do": lot.choice(("form", "add", "take-obstacle-9", "text"))}, True)
        yield Asked("/job/form", {**job, **some("k-length", "k-left", "k-shape", "k-mark", "more", "more-value")}, True)
        yield Asked("/job/text", {"file": JOBS[0], "text": lot.choice(VALUES)}, True)
        yield Asked(lot.choice(("/job", "/saw", "/job/changed", "/job/solved")), some("file"))
        yield Asked(lot.choice(("/packet", "/packet/file", "/practice/paper")), some("folder", "file", "saw", "which"))


def faults(count: int, seed: int) -> list[str]:
    """What of so many requests ended in a fault."""
    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "gallery"
        shutil.copytree(ROOT / "gallery", shop, ignore=shutil.ignore_patterns("packet", "*.png"))
        client = TestClient(page_app(Folder.of(shop)), base_url=HERE, raise_server_exceptions=False)
        found = []
        for one, _ in zip(asked(random.Random(seed)), range(count), strict=False):
            headers = {"origin": HERE}
            answer = (
                client.post(one.path, data=one.given, headers=headers)
                if one.sent
                else client.get(one.path, params=one.given)
            )
            if answer.status_code >= 500:
                said = answer.text.partition("<main>")[2][:300]
                found.append(f"{one}: {said}")
        return found


if __name__ == "__main__":
    wrong = faults(int(sys.argv[1]), int(sys.argv[2]))
    sys.stdout.write("\n".join([*wrong, f"{len(wrong)} faults"]) + "\n")
    sys.exit(bool(wrong))
