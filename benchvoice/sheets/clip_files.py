"""The clips of a session as addresses that a page can play them from."""

from __future__ import annotations

import base64
import os
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

_TYPES = {".flac": "audio/flac", ".wav": "audio/wav", ".ogg": "audio/ogg"}


def embedded(folder: Path) -> Callable[[str | None], str | None]:
    """Give clips as data URLs (RFC 2397); None for one that is not there."""

    def address(clip: str | None) -> str | None:
        path = _inside(folder, clip)
        if path is None:
            return None
        data = base64.b64encode(path.read_bytes()).decode("ascii")
        return f"data:{_TYPES[path.suffix]};base64,{data}"

    return address


def linked(folder: Path, page: Path) -> Callable[[str | None], str | None]:
    """Give clips as addresses relative to the page's folder; None for one that is not there."""

    def address(clip: str | None) -> str | None:
        path = _inside(folder, clip)
        if path is None:
            return None
        try:
            relative = os.path.relpath(path, page.resolve().parent)
        except ValueError:  # another drive
            return path.as_uri()
        return quote(Path(relative).as_posix())

    return address


def _inside(folder: Path, clip: str | None) -> Path | None:
    """Find a clip; a journal that points out of its own folder gets nothing."""
    if not clip:
        return None
    home = folder.resolve()
    path = (home / clip).resolve()
    if path.suffix not in _TYPES or not path.is_relative_to(home) or not path.is_file():
        return None
    return path
