"""The command: its address is the one line of its answer, it serves until it is interrupted, and says a taken port."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.request import Request, urlopen

import pytest

from mitertool.base.errors import BadInput
from mitertool.page.serve import listen
from tests.page.conftest import ROOT


@contextmanager
def started(folder: Path) -> Iterator[subprocess.Popen[str]]:
    """The program, serving the folder at a free port without a browser; as at a terminal, Ctrl-C reaches it."""
    command = [sys.executable, "-m", "mitertool", "page", str(folder), "--port", "0", "--no-browser"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    heard = signal.signal(signal.SIGINT, signal.default_int_handler)
    running = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    signal.signal(signal.SIGINT, heard)
    try:
        yield running
    finally:
        running.kill()
        running.communicate()


def test_it_tells_its_address_serves_and_stops(shop: Path) -> None:
    with started(shop) as running:
        assert running.stdout is not None
        address = running.stdout.readline().strip()
        with urlopen(Request(address, headers={"accept": "text/html"})) as answer:
            assert answer.status == 200
            assert b"boathouse-gate/job.toml" in answer.read()
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=20)
    assert address.startswith("http://127.0.0.1:")
    assert (running.returncode, out, err) == (0, "", "")


def test_a_taken_port_is_told() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(BadInput, match=str(port)):
            listen("127.0.0.1", port)


@pytest.mark.parametrize("host", ["", "0.0.0.0"])
def test_every_address_at_once_is_refused(host: str) -> None:
    with pytest.raises(BadInput, match="one address"):
        listen(host, 0)


def test_only_the_network_needs_a_key() -> None:
    here = listen("127.0.0.1", 0)
    with here.socket:
        assert (here.keys, "key=" in here.address) == (None, False)
    # 127.0.0.2 is this machine too, and not the address that needs none.
    there = listen("127.0.0.2", 0)
    with there.socket:
        assert there.keys is not None
        assert there.address.endswith(f"?key={there.keys.key}")
