"""Where what a command makes goes: standard output, or a file."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from benchvoice.errors import BadInput


def put_out(text: str, path: Path | None) -> None:
    """Print `text`, or write it to `path` (UTF-8) as a whole or not at all.

    Raises BadInput when the file cannot be written.
    """
    if path is None:
        sys.stdout.write(text)
        return
    aside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        aside.write_text(text, encoding="utf-8")
        aside.replace(path)
    except OSError as error:
        aside.unlink(missing_ok=True)
        raise BadInput(
            f"cannot be written ({error.strerror})", mend="check the folder and space", file=path
        ) from None
    print(f"written to {path}")
