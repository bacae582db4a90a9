"""Files written whole or not at all, and seen onto the disk."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from benchvoice.errors import BadInput

Sync = Callable[[int], None]
"""Brings a file or folder, by its handle, onto the disk; `os.fsync`, or what stands in for it."""


@contextmanager
def replacing(path: Path) -> Iterator[Path]:
    """Give another name beside `path` to write to, which takes its place when all went well.

    When not, what was written is gone, and `path` is as it was.  A link stays one.
    """
    path = path.resolve()
    part = path.with_name(f"{path.name}.part")
    try:
        yield part
        part.replace(path)
    except BaseException:
        with suppress(OSError):
            part.unlink()
        raise


def write_whole(text: str, path: Path, encoding: str = "utf-8") -> None:
    """Write `path` as a whole or not at all, line ends as they are (CSV has its own).

    Raises BadInput when the file cannot be written.
    """
    try:
        if path.exists() and not path.is_file():  # a pipe or a device is not replaced
            path.write_text(text, encoding=encoding, newline="")
            return
        with replacing(path) as part:
            part.write_text(text, encoding=encoding, newline="")
    except OSError as error:
        raise BadInput.unwritable(path, error) from None


def write_new(text: str, path: Path) -> None:
    """Write a file that is not there yet, as `write_whole` does.  Raises BadInput."""
    if path.is_file():
        raise BadInput("is there already", mend="give another name", file=path)
    write_whole(text, path)


def sync_file(path: Path) -> None:
    """See a written file onto the disk."""
    with path.open("r+b") as file:  # Windows syncs only what is open for writing
        os.fsync(file.fileno())


def sync_folder(folder: Path, sync: Sync) -> None:
    """Sync a folder, so that the names in it are on the disk."""
    if not hasattr(os, "O_DIRECTORY"):  # not on Windows, which needs no such sync
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        sync(handle)
    finally:
        os.close(handle)
