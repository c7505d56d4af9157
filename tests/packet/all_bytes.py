"""Everything that is written and answered, made in the working folder by a process of its own, in its language.

python -m tests.packet.all_bytes GALLERY NAME ...: the packets of these jobs, a cut as JSON, the page's first screen
"""

from __future__ import annotations

import asyncio
import builtins
import locale
import sys
from collections.abc import Iterable
from contextlib import redirect_stdout, suppress
from io import StringIO
from pathlib import Path
from typing import Any, Final

from mitertool.cli.main import run
from mitertool.page.app import page_app
from mitertool.page.folder import Folder

CUT: Final = ("cut", "UPN 100", "--miter", "37.3", "--bevel", "-11", "--lay", "toes up", "--kerf", "1.3", "--json")
ASKED: Final = {"type": "http", "method": "GET", "path": "/", "root_path": "", "query_string": b"", "headers": []}


async def _first_screen(folder: Path) -> bytes:
    """As a server asks for it (ASGI)."""
    answer: list[bytes] = []

    async def received() -> dict[str, Any]:
        return {"type": "http.request", "body": b"", "more_body": False}

    async def sent(message: Any) -> None:
        assert message.get("status", 200) == 200, message
        answer.append(message.get("body", b""))

    await page_app(Folder.of(folder))(dict(ASKED), received, sent)
    return b"".join(answer)


def _refuse_sums_of_floats() -> None:
    """Python's `sum` rounds floats otherwise from 3.12 on: whatever of ours adds them with it would differ there."""
    works = builtins.sum

    def refusing(values: Iterable[Any], start: Any = 0) -> Any:
        found = works(values, start)
        caller = sys._getframe(1).f_code
        assert not isinstance(found, float) or "/mitertool/" not in caller.co_filename, f"sum of floats in {caller}"
        return found

    builtins.sum = refusing


def _make(gallery: str, names: list[str]) -> int:
    _refuse_sums_of_floats()
    with suppress(locale.Error):  # as a program does that has windows
        locale.setlocale(locale.LC_ALL, "")
    with redirect_stdout(StringIO()):
        codes = [run(["packet", f"{gallery}/{name}/job.toml", "--out", name]) for name in names]
    with redirect_stdout(StringIO()) as said:
        codes.append(run(CUT))
    Path("cut.json").write_text(said.getvalue(), encoding="utf-8")
    Path("page.html").write_bytes(asyncio.run(_first_screen(Path(gallery))))
    return max(codes)


if __name__ == "__main__":
    sys.exit(_make(sys.argv[1], sys.argv[2:]))
