"""What the corrections of a session say about words: pairs of texts, and of steps."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from benchvoice.remark import Frozen, Remark
from benchvoice.session import Session


class Pair(Frozen, frozen=True, kw_only=True):
    """One entry as it was recorded, and as it was put right.

    `was` and `became` are the texts; `by_ear` tells that it was heard and not
    typed, `command` that it became a command.  The steps are ids, None where
    there is none; `places` are those that the findings name, `clip` its recording.
    """

    session: str
    seq: int
    was: str
    became: str
    by_ear: bool
    command: bool = False
    step_was: str | None = None
    step_became: str | None = None
    places: tuple[str, ...] = ()
    clip: Path | None = None

    @property
    def retyped(self) -> bool:
        """Whether the words were changed, and not only the step."""
        return self.was.lower().split() != self.became.lower().split()

    @property
    def moved(self) -> bool:
        """Whether it was put on another step with the words left as they were."""
        return not self.retyped and None not in (self.step_was, self.step_became)


def pairs_of(session: Session) -> Iterator[Pair]:
    """Give the corrected entries of a session that one recorded entry became.

    What was joined or split has no words of its own to compare, and is left out.
    """
    recorded = {entry.seq: entry for entry in session.recorded}
    for entry in session.entries:
        first = recorded.get(entry.seq)
        if first is None or not entry.corrected or entry.origins:
            continue
        pair = Pair(
            session=session.folder.name,
            seq=entry.seq,
            was=first.remark.heard,
            became=entry.remark.heard,
            by_ear=first.clip is not None or first.remark.confidence is not None,
            command=entry.remark.kind == "command",
            step_was=first.step,
            step_became=entry.step,
            clip=session.folder / first.clip if first.clip else None,
            places=tuple(one.place for one in entry.findings if one.place),
        )
        if pair.retyped or (pair.moved and pair.step_was != pair.step_became):
            yield pair


def uncorrected(session: Session) -> Iterator[Remark]:
    """Give the remarks that stand as they were recorded: what is learnt must not change them."""
    for entry in session.entries:
        changed = entry.corrected or entry.struck or entry.recounted
        if entry.kind == "finding" and not changed:
            yield entry.remark
