"""Only files of the folder: no way up, no link out, no file of elsewhere by its whole path."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.base.errors import BadInput
from mitertool.page.folder import Folder


def test_jobs_and_saws_are_known_by_their_tables(shop: Path) -> None:
    folder = Folder.of(shop)
    assert folder.files("job") == ("boathouse-gate/job.toml",)
    assert folder.files("saw") == ("boathouse-gate/saw.toml", "saws/column.toml", "saws/hinged.toml")


def test_a_broken_job_is_listed(shop: Path) -> None:
    (shop / "job-2.toml").write_text("[job", encoding="utf-8")
    assert "job-2.toml" in Folder.of(shop).files("job")


def test_a_file_that_was_written_anew_is_read_anew(shop: Path) -> None:
    folder, file = Folder.of(shop), shop / "new.toml"
    file.write_text("[saw]\n", encoding="utf-8")
    assert "new.toml" in folder.files("saw")
    file.write_text("[[piece]]\n", encoding="utf-8")
    assert "new.toml" in folder.files("job")


@pytest.mark.parametrize("name", ["../secret.toml", "saws/../../secret.toml", "/etc/passwd", "..\\secret.toml", "a\0b"])
def test_no_way_leads_out_of_the_folder(shop: Path, name: str) -> None:
    (shop.parent / "secret.toml").write_text("[saw]\n", encoding="utf-8")
    with pytest.raises(BadInput, match="only files of the folder"):
        Folder.of(shop).file(name)


def test_a_link_out_of_the_folder_is_no_file_of_it(shop: Path) -> None:
    (shop.parent / "secret.toml").write_text("[saw]\n", encoding="utf-8")
    (shop / "link.toml").symlink_to(shop.parent / "secret.toml")
    (shop / "up").symlink_to(shop.parent)
    folder = Folder.of(shop)
    assert "link.toml" not in folder.files("saw")
    for name in ("link.toml", "up/secret.toml"):
        with pytest.raises(BadInput, match="only files of the folder"):
            folder.file(name)


def test_a_file_of_the_folder_is_found(shop: Path) -> None:
    assert Folder.of(shop).file("saws/hinged.toml") == shop / "saws" / "hinged.toml"
    with pytest.raises(BadInput, match="no such file"):
        Folder.of(shop).file("saws/other.toml")


def test_a_folder_that_there_is_not(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no such folder"):
        Folder.of(tmp_path / "none")
