"""Session folders found."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from stat import S_ISREG
from typing import NamedTuple

from benchvoice.errors import SessionError
from benchvoice.session.read import JOURNAL_NAME


class Found(NamedTuple):
    """A session by the folder that it is `inside` and its name there, and its journal's state."""

    inside: str
    name: str
    journal: os.stat_result

    @property
    def folder(self) -> Path:
        """The session's own folder."""
        return Path(self.inside, self.name)


def find_sessions(paths: Iterable[Path | str]) -> list[Path]:
    """Give the session folders that `paths` are, or have in them, each once, sorted within a path.

    Journals with nothing in them (a crash before the first line) are passed over.

    Raises SessionError when a path has none.
    """
    return [found.folder for found in find_journals(paths)]


def find_journals(paths: Iterable[Path | str]) -> list[Found]:
    """Find as `find_sessions` does, with the state of each journal, looked at once."""
    found: dict[tuple[str, str], Found] = {}
    for path in map(Path, paths):
        folder = path.parent if path.name == JOURNAL_NAME else path
        own = _look(str(folder.parent), folder.name)
        inside = [own] if own and S_ISREG(own.journal.st_mode) else _listed(str(folder))
        if not inside:
            raise SessionError(
                "there is no session here", mend="give the folder of one or of several", file=path
            )
        for one in inside:
            found.setdefault((one.inside, one.name), one)
    return list(found.values())


def _listed(inside: str) -> list[Found]:
    try:
        with os.scandir(inside) as entries:
            names = sorted(entry.name for entry in entries)
    except OSError:
        return []
    return [one for name in names if (one := _look(inside, name)) and one.journal.st_size]


def _look(inside: str, name: str) -> Found | None:
    journal = f"{inside}{os.sep}{name}{os.sep}{JOURNAL_NAME}"
    try:
        return Found(inside, name, os.stat(journal))  # noqa: PTH116 (a Path would double its time)
    except (OSError, ValueError):  # ValueError: a name that no file can have
        return None
