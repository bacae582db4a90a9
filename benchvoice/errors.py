"""The one family of errors that benchvoice raises on purpose.

Every message is a single line that says what is wrong, where, and how to
mend it, because the person reading it has oily hands and no patience.
"""

from __future__ import annotations

from pathlib import Path
from typing import Self


class BenchvoiceError(Exception):
    """Base of all our errors.  `str(error)` is one line, fit for the user."""


class BadInput(BenchvoiceError):
    """Something the user gave cannot be used (command line exit code 2).

    `what` is wrong, `mend` says what to do, `file` and `line` (1-based)
    say where.
    """

    def __init__(
        self, what: str, *, mend: str = "", file: Path | str | None = None, line: int | None = None
    ) -> None:
        self.what = " ".join(what.split())
        self.mend = " ".join(mend.split())
        self.file = file
        self.line = line
        where = "" if file is None else f"{file}:{line}: " if line else f"{file}: "
        super().__init__(where + self.what + (f"; {self.mend}" if self.mend else ""))

    @classmethod
    def unreadable(cls, file: Path, error: OSError) -> Self:
        """Give the error for a file that the system does not let be read."""
        return cls(f"cannot be read ({error.strerror})", mend="check the path", file=file)

    @classmethod
    def unwritable(cls, file: Path, error: OSError) -> Self:
        """Give the error for a file or folder that the disk does not take."""
        what = f"cannot be written ({error.strerror})"
        return cls(what, mend="check the path, space and permissions", file=file)


class GrammarError(BadInput):
    """A vocabulary or outline file has a mistake."""


class AudioError(BadInput):
    """A recording or a microphone cannot be used."""


class EngineError(BadInput):
    """A speech engine or its model is missing or unusable."""


class SessionError(BadInput):
    """A session folder cannot be read or written."""
