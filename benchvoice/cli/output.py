"""Where what a command makes goes: standard output, or a file."""

from __future__ import annotations

import sys
from pathlib import Path

from benchvoice.disk import write_whole
from benchvoice.errors import BadInput

_BY_ENDING = {".html": "html", ".htm": "html", ".csv": "csv", ".json": "json"}
_NOT_MADE = frozenset({".pdf", ".doc", ".docx", ".xls", ".xlsx", ".odt", ".ods", ".rtf"})
"""Endings of files that their programs would not open with what is made here in them."""


def format_of(given: str | None, path: Path | None) -> str:
    """Give the format: the one `given`, else what a file's name ends in, else text.

    Raises BadInput for a name that promises what is not made.
    """
    ending = path.suffix.lower() if path else ""
    if given is None and ending in _NOT_MADE:
        raise BadInput(
            f"no {ending} is made here",
            mend="end it in .txt, .html (to print), .csv (for a spreadsheet) or .json",
            file=path,
        )
    return given or _BY_ENDING.get(ending, "text")


def put_out(text: str, path: Path | None) -> None:
    """Print `text`, or write it to `path` (UTF-8) as a whole or not at all.

    Raises BadInput when the file cannot be written.
    """
    if path is None:
        sys.stdout.write(text)
        return
    write_whole(text, path)
    print(f"written to {path}")
