"""Debian's Chromium, without network: every request but that for the page itself fails the test, and so does an error.

Of the pages that are served every request to another host does.

`MITERTOOL_CHROMIUM` names the browser where it lies elsewhere. Nothing is loaded before a test asks for it, so that the
everyday suite needs neither browser nor driver.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from mitertool.job import load, solve
from mitertool.packet.pages.browser.page import cut_sheet_page
from tests.packet.jobs import write_job

ROOT = Path(__file__).resolve().parents[2]
SIZES = {"phone": (390, 844), "desk": (1280, 800)}


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        program = os.environ.get("MITERTOOL_CHROMIUM", "/usr/bin/chromium")
        # A test machine works as root, where Chromium's own sandbox refuses to start.
        browser = driver.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The page of a job of `tests.packet.jobs` as a file."""
    folder = tmp_path_factory.mktemp("pages")

    def made(name: str) -> Path:
        file = folder / f"{name}.html"
        if not file.exists():
            job = write_job(name, folder / name)
            file.write_bytes(cut_sheet_page(solve(load(job))))
        return file

    return made


@pytest.fixture
def opened(chromium: Any, sheet: Callable[[str], Path]) -> Iterator[Callable[..., Any]]:
    """Opens the page of a job at a size, light or dark; at the end it must have asked for nothing, and no error."""
    contexts: list[Any] = []
    asked: list[str] = []
    wrong: list[str] = []

    def open_page(name: str, size: str = "phone", scheme: str = "light", before: str = "") -> Any:
        width, height = SIZES[size]
        context = chromium.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme, offline=True, accept_downloads=True
        )
        contexts.append(context)
        if before:
            context.add_init_script(before)
        page = context.new_page()
        url = sheet(name).as_uri()
        page.on("request", lambda request: asked.append(request.url) if request.url != url else None)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if said.type in ("error", "warning") else None)
        page.goto(url)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert [url for url in asked if not url.startswith("blob:")] == []
    assert wrong == []


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the page over a copy of the gallery, served by the program itself."""
    folder = tmp_path_factory.mktemp("shop") / "gallery"
    shutil.copytree(ROOT / "gallery", folder, ignore=shutil.ignore_patterns("packet", "*.png"))
    with serving(folder) as address:
        yield address


@contextmanager
def serving(folder: Path) -> Iterator[str]:
    """The address of the page over a folder."""
    command = [sys.executable, "-m", "mitertool", "page", str(folder), "--port", "0", "--no-browser"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        yield running.stdout.readline().strip().rstrip("/")
        running.terminate()


@pytest.fixture
def visit(chromium: Any, served: str) -> Iterator[Callable[..., Any]]:
    """Opens a screen of the page over the gallery, as `visiting`."""
    with visiting(chromium, served) as opens:
        yield opens


@pytest.fixture
def visit_empty(chromium: Any, tmp_path: Path) -> Iterator[Callable[..., Any]]:
    """The same of a page over a folder that nothing lies in."""
    with serving(tmp_path) as address, visiting(chromium, address) as opens:
        yield opens


@contextmanager
def visiting(chromium: Any, served: str) -> Iterator[Callable[..., Any]]:
    """Opens a screen of the page at a size, light or dark; at the end it must have asked no other host, and no error.

    A screen that is `refused` answers 400, of which the browser itself complains.
    """
    contexts: list[Any] = []
    asked: list[str] = []
    wrong: list[str] = []

    def complaint(said: Any) -> None:
        if said.type in ("error", "warning"):
            wrong.append(said.text)

    def open_screen(
        path: str, size: str = "desk", scheme: str = "light", refused: bool = False, scripts: bool = True
    ) -> Any:
        width, height = SIZES[size]
        context = chromium.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme, java_script_enabled=scripts
        )
        contexts.append(context)
        page = context.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.on("pageerror", lambda error: wrong.append(str(error)))
        if not refused:
            page.on("console", complaint)
        page.goto(path if path.startswith(served) else served + path)
        return page

    yield open_screen
    for context in contexts:
        context.close()
    assert asked
    assert [url for url in asked if not url.startswith(f"{served}/")] == []
    assert wrong == []
