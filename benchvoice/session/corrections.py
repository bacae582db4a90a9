"""Corrections by hand written to the journal."""

from __future__ import annotations

import os
from pathlib import Path

from msgspec.structs import replace

from benchvoice.disk import Sync
from benchvoice.errors import BadInput
from benchvoice.session import records
from benchvoice.session.clocks import Clock
from benchvoice.session.correcting import CORRECTABLE
from benchvoice.session.file import JournalFile
from benchvoice.session.standing import in_force, standing
from benchvoice.session.values import Amendment, Correction, Session


class Corrections:
    """Corrects a session without beginning a sitting: no labour is counted.

    `session` is how it stands; each `amend` is on the disk before it returns.
    """

    def __init__(self, file: JournalFile, session: Session, who: str, clock: Clock) -> None:
        """For `open` only."""
        self._file = file
        self._who = who
        self._clock = clock
        self.session = session
        """The session with all corrections so far."""

    @classmethod
    def open(
        cls, folder: Path | str, who: str, clock: Clock, *, sync: Sync = os.fsync
    ) -> Corrections:
        """Lock a session for correcting by `who`; a torn last line is moved aside.

        Raises SessionError as `read_session` does, and when it is open elsewhere.
        """
        file, session = JournalFile.open(folder, sync)
        if session.damage:  # the torn line is in a file of its own by now
            whole = tuple(one for one in session.damage if not one.what.startswith("torn"))
            session = replace(session, damage=whole)
        return cls(file, session, who, clock)

    def amend(self, correction: Correction) -> Session:
        """Record a correction and give the session as it stands then.

        Raises BadInput when it was made from another state of the session, and
        SessionError when it cannot be written; nothing is changed then.
        """
        self._check(correction)
        amendment = Amendment(
            **{field: getattr(correction, field) for field in Correction.__struct_fields__},
            seq=self.session.last_seq + 1,
            wall=self._clock.wall().isoformat(timespec="seconds"),
            who=self._who,
        )
        self._file.append(records.amendment_record(amendment))
        self.session = amended(self.session, amendment)
        return self.session

    def close(self) -> None:
        """Let go of the session."""
        self._file.close()

    def __enter__(self) -> Corrections:
        return self

    def __exit__(self, *error: object) -> None:
        self.close()

    def _check(self, correction: Correction) -> None:
        stands = {entry.seq for entry in self.session.entries}
        new = [entry.seq for entry in correction.becomes]
        own = self.session.last_seq + 1
        applied = in_force(self.session.amendments)
        stale = (
            not stands.issuperset(correction.amends)
            or len(set(new)) < len(new)
            or any(seq in stands and seq not in correction.amends for seq in new)
            or own in new
            or not all(entry.kind in CORRECTABLE for entry in correction.becomes)
            or (correction.undoes is not None and correction.undoes not in applied)
            or (correction.undoes is not None and bool(new or correction.amends))
        )
        if stale:
            raise BadInput(
                "the correction does not fit the session as it stands",
                mend="make it again from the session as it is now",
            )
        if not (correction.amends or new or correction.undoes):
            raise BadInput("the correction changes nothing", mend="give what is to be changed")


def amended(session: Session, amendment: Amendment) -> Session:
    """Give `session` with one more amendment, as it will be read back."""
    becomes = tuple(
        replace(one, t=round(one.t, 3), remark=replace(one.remark, findings=one.findings))
        for one in amendment.becomes
    )
    amendments = (*session.amendments, replace(amendment, becomes=becomes))
    entries = standing(session.recorded, amendments)
    return replace(session, amendments=amendments, entries=entries)
