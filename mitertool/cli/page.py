"""`mitertool page`: the screens in a browser on this machine, until it is stopped; knows page."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mitertool.base.speech import complain, say_now
from mitertool.cli.commands import command, options
from mitertool.page.folder import Folder
from mitertool.page.serve import HERE, listen, serve
from mitertool.words import phrase


@options
class PageOptions:
    """A folder, and where it is served."""

    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="option.page.folder")] = Path()
    port: Annotated[int | None, typer.Option(min=0, max=65535, help="option.page.port")] = None
    host: Annotated[str, typer.Option(help="option.page.host")] = HERE
    no_browser: Annotated[bool, typer.Option("--no-browser", help="option.page.no_browser")] = False


@command(PageOptions, "page . --port 8472 --no-browser", "page jobs --host 192.168.1.20")
def page(o: PageOptions) -> None:
    """What `mitertool page` does."""
    folder = Folder.of(o.folder)
    listening = listen(o.host, o.port)
    if listening.keys:
        complain(phrase("page.on-the-network"))
    say_now(listening.address + "\n")
    serve(folder, listening, not o.no_browser, lambda address: complain(phrase("page.next-key", address=address)))
