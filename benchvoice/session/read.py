"""Sessions read from disk."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from benchvoice.errors import SessionError
from benchvoice.session.fold import fold
from benchvoice.session.lines import Lines, split_lines
from benchvoice.session.values import SCHEMA, Session

JOURNAL_NAME = "session.jsonl"
CLIPS = "clips"
"""The folder of the clips, in that of the session."""


def read_session(folder: Path | str) -> Session:
    """Read a session by its folder or its journal.

    Damaged lines are left out and listed in `damage`.  Raises SessionError
    when there is no journal, or it is not one, or is of a later schema.
    """
    path = journal_path(folder)
    return session_of(path, read_lines(path))


def journal_path(folder: Path | str) -> Path:
    """Give the journal of a session folder; a journal's own path is taken too."""
    path = Path(folder)
    return path if path.suffix == Path(JOURNAL_NAME).suffix else path / JOURNAL_NAME


def has_records(folder: Path | str) -> bool:
    """Whether a session was begun there: its journal has at least one whole line.

    A crash in the very first moment leaves one without.
    """
    try:
        with journal_path(folder).open("rb") as file:
            return file.readline().endswith(b"\n")
    except OSError:
        return False


def read_lines(path: Path) -> Lines:
    """Read the lines of a journal.  Raises SessionError."""
    try:
        return split_lines(path.read_bytes())
    except (FileNotFoundError, NotADirectoryError):
        raise SessionError(
            "there is no session here", mend="give the folder of one", file=path.parent
        ) from None
    except OSError as error:
        raise SessionError.unreadable(path, error) from None


def session_of(path: Path, lines: Lines) -> Session:
    """Check the schema line and fold the rest.  Raises SessionError."""
    records = list(lines.records)
    if not records:
        what = "is damaged from the first line on" if lines.damage else "is empty"
        raise SessionError(what, mend="begin a new session in another folder", file=path)
    number, first = records[0]
    if number == 1:
        _check_schema(path, first)
        records.pop(0)
    elif not any(fault.line == 1 for fault in lines.damage):
        _check_schema(path, {})
    return fold(path.parent, records, lines.damage)


def _check_schema(path: Path, first: Mapping[str, Any]) -> None:
    schema = first.get("schema")
    if not isinstance(schema, int) or isinstance(schema, bool) or schema < 1:
        raise SessionError(
            "does not begin with a schema line", mend="give a session's journal", file=path, line=1
        )
    if schema > SCHEMA:
        raise SessionError(
            f"was written by a later benchvoice (schema {schema}, this one reads {SCHEMA})",
            mend="install the later one",
            file=path,
            line=1,
        )
