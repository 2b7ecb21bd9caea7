"""A file is there whole or not at all, and what stood there before stays when the new one cannot be written."""

import os
import stat
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.render.whole_file import write_whole


def test_the_content_is_there_and_nothing_else(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.pdf", b"one")
    write_whole(tmp_path / "a.pdf", b"two")
    assert (tmp_path / "a.pdf").read_bytes() == b"two"
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]
    assert stat.S_IMODE((tmp_path / "a.pdf").stat().st_mode) == 0o644


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match=r"There is no folder .*gone; make it first"):
        write_whole(tmp_path / "gone" / "a.pdf", b"one")
    assert list(tmp_path.iterdir()) == []


def test_a_file_in_place_of_the_folder_is_named(tmp_path: Path) -> None:
    (tmp_path / "shop").write_text("a file")
    with pytest.raises(InputRefused, match="shop is a file and not a folder"):
        write_whole(tmp_path / "shop" / "a.pdf", b"one")
    assert (tmp_path / "shop").read_text() == "a file"


def test_a_folder_in_the_way_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").mkdir()
    with pytest.raises(InputRefused, match="A folder of this name is in the way"):
        write_whole(tmp_path / "a.pdf", b"one")
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]


def test_a_full_disk_leaves_the_old_file_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(file: int, content: bytes) -> int:
        raise OSError(28, "No space left on device")

    (tmp_path / "a.pdf").write_bytes(b"old")
    monkeypatch.setattr(os, "write", full)
    with pytest.raises(InputRefused, match=r"cannot be written here \(No space left on device\)"):
        write_whole(tmp_path / "a.pdf", b"new")
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"old"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_refused(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(InputRefused, match="cannot be written here"):
        write_whole(tmp_path / "a.pdf", b"one")
    tmp_path.chmod(0o700)
