"""Every page is valid HTML, escaped, and asks for files of its own address only."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import html5lib
import pytest

from mitertool.base.language import spoken
from mitertool.page.app import SCREENS, Listed
from tests.page.conftest import ROOT, Asks

PAGES = [screen.path for screen in SCREENS]


def valid(text: str) -> None:
    """Raises where a parser that follows the standard to the letter finds anything wrong."""
    html5lib.HTMLParser(strict=True).parse(text)


@pytest.mark.parametrize("path", [*PAGES, "/no-such-page"])
def test_a_page_is_valid(asks: Asks, path: str) -> None:
    answer = asks().get(path)
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    valid(answer.text)


@pytest.mark.parametrize("listed", SCREENS, ids=lambda one: one.name)
def test_a_screen_answers_where_it_is_listed(listed: Listed) -> None:
    screen = listed.screen
    assert (screen.code, screen.path) == (listed.code, listed.path)
    first = {f"/{route.path.split('/')[1]}" for route in screen.routes}
    assert first == {listed.path, *listed.also}


def test_the_first_page_loads_no_other_screen() -> None:
    code = "import sys, mitertool.page.serve, mitertool.page.screens.home; print(*sys.modules)"
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, "-c", code], env=environment, stdout=subprocess.PIPE, text=True)
    loaded = done.stdout.split()
    assert "mitertool.page.screens.home" in loaded
    assert {"mitertool.page.screens.cut", "mitertool.cut.cut", "numpy", "shapely"} & set(loaded) == set()


@pytest.mark.parametrize("path", PAGES)
def test_a_page_asks_for_nothing_elsewhere(asks: Asks, path: str) -> None:
    tree = html5lib.parse(asks().get(path).text, namespaceHTMLElements=False)
    asked = [one.get(name) for one in tree.iter() for name in ("src", "href") if one.get(name)]
    assert asked
    assert [one for one in asked if not one.startswith(("/", "#")) or one.startswith("//")] == []
    assert [one for one in tree.iter() if one.get("style") or any(name.startswith("on") for name in one.attrib)] == []


def test_home_lists_the_folder_and_escapes_names(asks: Asks, shop: Path) -> None:
    (shop / "<b>job.toml").write_text("[job]\n", encoding="utf-8")
    text = asks().get("/").text
    assert "boathouse-gate/job.toml" in text
    assert 'href="/cut?saw=saws%2Fhinged.toml"' in text
    assert "&lt;b&gt;job.toml" in text
    valid(text)


def test_a_page_speaks_german(asks: Asks) -> None:
    with spoken("de"):
        text = asks().get("/").text
    assert '<html lang="de">' in text
    assert "Aufträge" in text


@pytest.mark.parametrize("name", ["page.css", "htmx.min.js", "htmx-license.txt", "icon.svg"])
def test_its_files_are_shipped(asks: Asks, name: str) -> None:
    assert asks().get(f"/static/{name}").status_code == 200


def test_static_files_lead_nowhere_else(asks: Asks) -> None:
    assert asks().get("/static/..%2fapp.py").status_code == 404


def test_a_name_too_long_for_a_file_is_not_there(asks: Asks) -> None:
    assert asks().get("/job", params={"file": "9" * 400}).status_code == 400
