"""A lock so that two programs do not write to one session."""

from __future__ import annotations

import sys
from typing import IO

if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 30

    def lock(file: IO[bytes]) -> bool:
        """Lock `file` against other writers; False when another has it.

        A byte far behind the end is locked, as readers would be kept out of a locked byte.
        """
        at = file.tell()
        try:
            file.seek(_FAR)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            file.seek(at)
        return True

else:
    import fcntl

    def lock(file: IO[bytes]) -> bool:
        """Lock `file` against other writers until it is closed; False when another has it.

        Raises OSError where the disk knows no locks.
        """
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
