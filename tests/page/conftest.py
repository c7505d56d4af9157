"""The page over a copy of the gallery, asked without a network."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from mitertool.page.app import page_app
from mitertool.page.folder import Folder
from mitertool.page.guard import EntryKeys, Guard

ROOT = Path(__file__).resolve().parents[2]
HOST = "127.0.0.1:8472"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A folder of a shop: a job with its saw, and two saws."""
    made = tmp_path / "shop"
    for name in ("boathouse-gate/job.toml", "boathouse-gate/saw.toml", "saws/hinged.toml", "saws/column.toml"):
        (made / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / "gallery" / name, made / name)
    return made


Asks = Callable[..., TestClient]


@pytest.fixture
def asks(shop: Path) -> Asks:
    """A browser that has the page open; with `keys` one that comes over the network."""

    def client(keys: EntryKeys | None = None, host: str = HOST) -> TestClient:
        app = Guard(page_app(Folder.of(shop)), frozenset({HOST}), keys)
        return TestClient(app, base_url=f"http://{host}", raise_server_exceptions=False)

    return client
