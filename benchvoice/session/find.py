"""Session folders found."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from benchvoice.errors import SessionError
from benchvoice.session.read import JOURNAL_NAME


def find_sessions(paths: Iterable[Path | str]) -> list[Path]:
    """Give the session folders that `paths` are, or have in them, each once, sorted within a path.

    Journals with nothing in them (a crash before the first line) are passed over.

    Raises SessionError when a path has none.
    """
    found: dict[Path, None] = {}
    for path in map(Path, paths):
        folder = path.parent if path.name == JOURNAL_NAME else path
        if (folder / JOURNAL_NAME).is_file():
            inside = [folder]
        else:
            journals = folder.glob(f"*/{JOURNAL_NAME}")
            inside = sorted(journal.parent for journal in journals if journal.stat().st_size)
        if not inside:
            raise SessionError(
                "there is no session here", mend="give the folder of one or of several", file=path
            )
        found |= dict.fromkeys(inside)
    return list(found)
