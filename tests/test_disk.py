"""Files written whole or not at all; the file system is the reference."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchvoice.disk import replacing, write_new
from benchvoice.errors import BadInput


def test_what_was_written_takes_the_place_of_what_was_there(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_text("old")
    with replacing(path) as part:
        part.write_text("new")
        assert path.read_text() == "old"
    assert path.read_text() == "new"
    assert [*tmp_path.iterdir()] == [path]


def test_a_link_stays_one(tmp_path: Path) -> None:
    kept, link = tmp_path / "kept", tmp_path / "link"
    kept.write_text("old")
    link.symlink_to(kept)
    with replacing(link) as part:
        part.write_text("new")
    assert (link.is_symlink(), kept.read_text()) == (True, "new")


def test_a_file_that_is_there_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "a"
    write_new("old", path)
    with pytest.raises(BadInput, match="is there already"):
        write_new("new", path)
    assert path.read_text() == "old"
    with pytest.raises(BadInput, match="cannot be written"):
        write_new("new", path / "b")
    assert [*tmp_path.iterdir()] == [path]


@pytest.mark.parametrize("error", [OSError("full"), KeyboardInterrupt()])
def test_after_a_failure_all_is_as_it_was(tmp_path: Path, error: BaseException) -> None:
    path = tmp_path / "a"
    path.write_text("old")
    with pytest.raises(type(error)), replacing(path) as part:
        part.write_text("half")
        raise error
    assert path.read_text() == "old"
    assert [*tmp_path.iterdir()] == [path]


def test_a_failure_with_nothing_written_is_told_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    path = tmp_path / "file" / "a"
    with pytest.raises(NotADirectoryError), replacing(path) as part:
        part.write_text("new")
