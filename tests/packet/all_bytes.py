"""Everything that is written and answered, made in the working folder by a process of its own, in its language.

python -m tests.packet.all_bytes GALLERY NAME ...: the packets of these jobs, a cut as JSON, the page's first screen
"""

from __future__ import annotations

import asyncio
import locale
import sys
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


def _make(gallery: str, names: list[str]) -> int:
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
