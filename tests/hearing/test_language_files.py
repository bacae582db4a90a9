"""The cache of language files: reused when whole, made again when not."""

from pathlib import Path

import pytest

from benchvoice.errors import EngineError
from benchvoice.hearing.language_files import cached_files, inputs_key

NAMES = ("arpa", "dict")


class Maker:
    def __init__(self) -> None:
        self.calls = 0

    def __call__(self, folder: Path) -> None:
        self.calls += 1
        for name in NAMES:
            (folder / name).write_text(f"{name} of call {self.calls}\n" * 50)


def test_files_are_made_once(tmp_path: Path) -> None:
    make = Maker()
    first = cached_files(tmp_path / "cache", "k", NAMES, make)
    again = cached_files(tmp_path / "cache", "k", NAMES, make)
    assert make.calls == 1
    assert first == again
    assert first["dict"].read_text().startswith("dict of call 1")


@pytest.mark.parametrize("harm", ["cut", "change", "remove", "no sum", "bad sum"])
def test_harmed_files_are_made_again(tmp_path: Path, harm: str) -> None:
    make = Maker()
    paths = cached_files(tmp_path, "k", NAMES, make)
    sums = next(tmp_path.glob("*.sum"))
    data = paths["arpa"].read_bytes()
    if harm == "cut":
        paths["arpa"].write_bytes(data[: len(data) // 2])
    elif harm == "change":
        paths["arpa"].write_bytes(data[:-2] + b"X\n")
    elif harm == "remove":
        paths["dict"].unlink()
    elif harm == "no sum":
        sums.unlink()
    else:
        sums.write_bytes(b"\xff\x00")
    cached_files(tmp_path, "k", NAMES, make)
    assert make.calls == 2
    assert paths["arpa"].read_text().startswith("arpa of call 2")
    cached_files(tmp_path, "k", NAMES, make)
    assert make.calls == 2


def test_a_stopped_making_leaves_nothing_that_counts(tmp_path: Path) -> None:
    def stopped(folder: Path) -> None:
        (folder / "arpa").write_text("half")
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        cached_files(tmp_path, "k", NAMES, stopped)
    make = Maker()
    cached_files(tmp_path, "k", NAMES, make)
    assert make.calls == 1


def test_old_sets_are_removed(tmp_path: Path) -> None:
    make = Maker()
    for number in range(10):
        cached_files(tmp_path, f"k{number}", NAMES, make)
    assert len(list(tmp_path.glob("*.sum"))) == 6
    assert len(list(tmp_path.glob("*.arpa"))) == 6


def test_what_a_crash_left_is_removed_with_its_set(tmp_path: Path) -> None:
    (tmp_path / "k0.4711").mkdir()
    for number in range(7):
        cached_files(tmp_path, f"k{number}", NAMES, Maker())
    assert not list(tmp_path.glob("k0.*"))


def test_a_cache_of_somebody_else_is_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the owner may set the times of a file (POSIX, utime)."""

    def refused(path: Path) -> None:
        raise PermissionError(1, "Operation not permitted", str(path))

    make = Maker()
    cached_files(tmp_path, "k", NAMES, make)
    monkeypatch.setattr("os.utime", refused)
    cached_files(tmp_path, "k", NAMES, make)
    assert make.calls == 1


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(EngineError, match="cannot be kept"):
        cached_files(tmp_path / "file" / "cache", "k", NAMES, Maker())


def test_keys_tell_inputs_apart() -> None:
    keys = {
        inputs_key(1, "a"),
        inputs_key(1, "b"),
        inputs_key(2, "a"),
        inputs_key("1a"),
        inputs_key(),
    }
    assert len(keys) == 5
    assert inputs_key([("a",), 1.0]) == inputs_key([("a",), 1.0])
