"""The first screen: the jobs and saw files of the folder, and the way to the other screens; knows the folder."""

from __future__ import annotations

from attrs import frozen
from starlette.requests import Request
from starlette.responses import Response

from mitertool.page.folder import Folder
from mitertool.page.screen import Screen, folder_of, page


@frozen
class Home:
    """What the folder holds, by names told from it."""

    name: str
    jobs: tuple[str, ...]
    saws: tuple[str, ...]

    @classmethod
    def of(cls, folder: Folder) -> Home:
        """What is listed of a folder."""
        return cls(folder.root.name, folder.files("job"), folder.files("saw"))


def home(request: Request) -> Response:
    """The list."""
    return page(request, "home.html", view=Home.of(folder_of(request)))


SCREEN = Screen("page.home", "/", home)
