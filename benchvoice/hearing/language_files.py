"""The language model and dictionary that an engine loads, kept on disk between runs."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

from benchvoice.disk import sync_file
from benchvoice.errors import EngineError

_KEPT = 6
"""How many sets of files stay in the cache; the oldest go first."""


def inputs_key(*parts: object) -> str:
    """Give a short name for the given inputs; the same for the same values, on every run."""
    digest = hashlib.blake2b(digest_size=12)
    for part in parts:
        digest.update(repr(part).encode())
        digest.update(b"\0")
    return digest.hexdigest()


def cached_files(
    folder: Path, key: str, names: tuple[str, ...], make: Callable[[Path], None]
) -> dict[str, Path]:
    """Give the files `names` made by `make(folder)`, from the cache when they are whole there.

    Each is written under another name, synced and renamed; a sum over all of
    them is written last, and files that do not match it are made again.
    Raises EngineError when the folder cannot be written.
    """
    paths = {name: folder / f"{key}.{name}" for name in names}
    sums = folder / f"{key}.sum"
    try:
        if sums.is_file() and _sum(paths) == sums.read_text(encoding="ascii", errors="replace"):
            with suppress(OSError):  # a cache that is only to be read is as good
                os.utime(sums)
            return paths
        folder.mkdir(parents=True, exist_ok=True)
        work = folder / f"{key}.{os.getpid()}"
        work.mkdir(exist_ok=True)
        try:
            make(work)
            sums.unlink(missing_ok=True)
            for name, path in paths.items():
                sync_file(work / name)
                (work / name).replace(path)
            (work / "sum").write_text(_sum(paths) or "", encoding="ascii")
            (work / "sum").replace(sums)
        finally:
            shutil.rmtree(work, ignore_errors=True)
        _prune(folder)
    except OSError as error:
        raise EngineError(
            f"the speech files cannot be kept here ({error.strerror})",
            mend="check space and permissions",
            file=folder,
        ) from None
    return paths


def _sum(paths: Mapping[str, Path]) -> str | None:
    digest = hashlib.blake2b(digest_size=16)
    for path in paths.values():
        if not path.is_file():
            return None
        digest.update(path.read_bytes())
    return digest.hexdigest()


def _prune(folder: Path) -> None:
    sums = sorted(folder.glob("*.sum"), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in sums[_KEPT:]:
        for path in folder.glob(f"{old.stem}.*"):
            if path.is_dir():  # left by a crash
                shutil.rmtree(path, ignore_errors=True)
            else:
                path.unlink(missing_ok=True)
