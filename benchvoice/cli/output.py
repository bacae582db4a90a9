"""Where what a command makes goes: standard output, or a file."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

from benchvoice.errors import BadInput


def put_out(text: str, path: Path | None) -> None:
    """Print `text`, or write it to `path` (UTF-8) as a whole or not at all.

    Raises BadInput when the file cannot be written.
    """
    if path is None:
        sys.stdout.write(text)
        return
    write_whole(text, path)
    print(f"written to {path}")


def write_whole(text: str, path: Path, encoding: str = "utf-8") -> None:
    """Write `path` as a whole or not at all, line ends as they are (CSV has its own).

    Raises BadInput when the file cannot be written.
    """
    target = path.resolve()  # a link stays one
    aside = target.with_name(f".{target.name}.{os.getpid()}.part")
    if target.exists() and not target.is_file():  # a pipe or a device is written to, not replaced
        aside = target
    try:
        aside.write_text(text, encoding=encoding, newline="")
        if aside != target:
            aside.replace(target)
    except OSError as error:
        if aside != target:
            with suppress(OSError):
                aside.unlink()
        raise BadInput(
            f"cannot be written ({error.strerror})", mend="check the folder and space", file=path
        ) from None
