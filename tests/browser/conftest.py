"""Debian's Chromium, without network: every request but that for the page itself fails the test, and so does an error.

`MITERTOOL_CHROMIUM` names the browser where it lies elsewhere. Nothing is loaded before a test asks for it, so that the
everyday suite needs neither browser nor driver.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
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
