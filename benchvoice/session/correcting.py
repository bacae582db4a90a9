"""Corrections by hand, each made from the session as it stands; nothing is written here.

All raise BadInput, with how to mend it, for what cannot be done.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import count

from msgspec.structs import replace

from benchvoice.errors import BadInput
from benchvoice.follow.events import STRIKABLE, EventKind, StepEvent
from benchvoice.remark import Finding
from benchvoice.session.history import history
from benchvoice.session.values import Correction, Entry, Session

CORRECTABLE: frozenset[str] = STRIKABLE | {"unclear", "paused", "resumed"}
"""Kinds of entry that can be corrected, and that a correction may make."""


def edit(
    session: Session,
    seq: int,
    findings: Sequence[Finding],
    *,
    kind: EventKind | None = None,
    warnings: Sequence[str] = (),
) -> Correction:
    """Give an entry other findings and `warnings`; its kind stays unless `kind` is given."""
    old = _standing(session, seq)
    new_kind = old.kind if kind is None else _correctable(kind)
    found = tuple(findings)
    if new_kind == "finding" and not found:
        raise BadInput(f"entry {seq} would have no finding left", mend="delete it instead")
    new = replace(_with_findings(by_hand(old), found), kind=new_kind, warnings=tuple(warnings))
    return Correction(amends=(seq,), becomes=(new,))


def retype(session: Session, seq: int, events: Sequence[StepEvent]) -> Correction:
    """Put what was typed in the place of an entry: one event edits it, several split it.

    The events are what `follow.advance` makes of the typed remarks after
    `Session.log_before(seq)`; their `seq` and `at` are not used.  Clip, time
    and what was heard first stay reachable.
    """
    old = _standing(session, seq)
    if not events:
        raise BadInput(f"nothing was typed for entry {seq}", mend="type it, or delete the entry")
    base = by_hand(old)
    pieces = [_made_of(event, base) for event in events]
    return Correction(amends=(seq,), becomes=_pieces(session, old, pieces))


def split(session: Session, seq: int, groups: Sequence[Sequence[Finding]]) -> Correction:
    """Make one entry of each group of findings; all keep its step, time and clip."""
    old = _standing(session, seq)
    if len(groups) < 2 or not all(groups):
        raise BadInput(
            f"entry {seq} is split into two or more, with a finding in each",
            mend="give the findings of each",
        )
    if old.kind != "finding":
        raise BadInput(f"entry {seq} has no findings to split", mend="type it anew instead")
    base = replace(by_hand(old), warnings=())
    pieces = [_with_findings(base, tuple(group)) for group in groups]
    return Correction(amends=(seq,), becomes=_pieces(session, old, pieces))


def join(session: Session, seqs: Sequence[int]) -> Correction:
    """Make one entry of several findings, or of several notes, of one step and sitting.

    It has the number of the first and the time of the last, for a thing is
    said when it is done.
    """
    wanted = set(seqs)
    old = [entry for entry in session.entries if entry.seq in wanted]
    for seq in wanted:
        _standing(session, seq)
    if len(old) < 2:
        raise BadInput("only one entry to join", mend="give two or more")
    if len({(entry.sitting, entry.step, entry.kind) for entry in old}) > 1:
        raise BadInput(
            "entries of several steps, sittings or kinds are not joined",
            mend="move them to one step first",
        )
    if old[0].kind not in ("finding", "noted"):
        raise BadInput(f"entries that are {old[0].kind} are not joined", mend="delete one of them")
    first, last = old[0], max(old, key=lambda entry: entry.t)
    heard = ", ".join(entry.remark.heard for entry in old)
    unparsed = tuple(words for entry in old for words in entry.remark.unparsed)
    joined = replace(
        by_hand(first),
        remark=replace(first.remark, heard=heard, unparsed=unparsed, confidence=None),
        t=last.t,
        end=last.end,
        wall=last.wall,
        clip=next((entry.clip for entry in old if entry.clip), None),
        warnings=(),
        origins=_origins(*old),
    )
    findings = tuple(finding for entry in old for finding in entry.findings)
    return Correction(
        amends=tuple(entry.seq for entry in old),
        becomes=(_with_findings(joined, findings),),
    )


def move(session: Session, seqs: Iterable[int], step: str | None) -> Correction:
    """Put entries on another step; one that finished its step finishes the new one."""
    new = []
    for old in _several(session, seqs):
        finishes = step if old.finishes is not None and old.finishes == old.step else old.finishes
        new.append(replace(_all_of(by_hand(old), step), finishes=finishes))
    return _in_place(new)


def retime(session: Session, times: Mapping[int, float]) -> Correction:
    """Give entries other times, in seconds of their sitting; the order follows the times."""
    new = []
    for old in _several(session, times):
        t = _time(session, old.sitting, times[old.seq])
        end = None if old.end is None else max(t, old.end + t - old.t)
        new.append(replace(by_hand(old), t=t, end=end, wall=_later(old.wall, t - old.t)))
    return _in_place(new)


def confirm(session: Session, seqs: Iterable[int]) -> Correction:
    """Say that entries are right as they were heard."""
    new = [
        replace(old, confirmed=True, remark=replace(old.remark, confidence=None))
        for old in _several(session, seqs)
    ]
    return _in_place(new)


def delete(session: Session, seqs: Iterable[int]) -> Correction:
    """Take entries out of what stands; the journal keeps them, and `restore` brings them back."""
    old = _several(session, seqs)
    return Correction(amends=tuple(entry.seq for entry in old))


def insert(session: Session, event: StepEvent, *, sitting: int, wall: str = "") -> Correction:
    """Put in what was never said: `event.at` is in seconds of `sitting`."""
    t = _time(session, sitting, event.at)
    opened = next(one.opened for one in session.sittings if one.number == sitting)
    blank = Entry(
        seq=session.last_seq + 2,
        sitting=sitting,
        t=t,
        wall=wall or _later(opened, t),
        kind="noted",
        remark=event.remark,
        corrected=True,
    )
    return Correction(becomes=(_made_of(event, blank),))


def restore(session: Session, seq: int) -> Correction:
    """Bring back an entry: one deleted or struck as it last stood, else as it was recorded."""
    now = session.entry(seq)
    if now is not None and now.struck:
        back = replace(now, struck=False)
        return Correction(amends=(seq,), becomes=(back,))
    first = next((entry for entry in session.recorded if entry.seq == seq), None)
    if now is not None:
        if first is None or now == first:
            raise BadInput(f"entry {seq} is as it was recorded", mend="there is nothing to restore")
        return Correction(amends=(seq,), becomes=(first,))
    gone = [one for change in history(session, seq) for one in change.before if one.seq == seq]
    last = gone[-1] if gone else None
    if last is None:
        raise _no_entry(seq)
    return Correction(becomes=(last,))


def together(session: Session, corrections: Sequence[Correction], why: str = "") -> Correction:
    """Make one correction of several over different entries, to be taken back as one."""
    amends = [seq for one in corrections for seq in one.amends]
    if len(set(amends)) < len(amends):
        raise BadInput("an entry is changed twice at once", mend="make two corrections of it")
    if any(one.undoes is not None for one in corrections):
        raise BadInput("an undo is no part of a larger correction", mend="undo by itself")
    fresh = count(session.last_seq + 2)
    becomes = [
        entry if entry.seq <= session.last_seq else replace(entry, seq=next(fresh))
        for one in corrections
        for entry in one.becomes
    ]
    return Correction(amends=tuple(amends), becomes=tuple(becomes), why=why)


def by_hand(entry: Entry) -> Entry:
    """Give an entry as one that a hand corrected: it is no longer doubtful."""
    remark = replace(entry.remark, findings=entry.findings, confidence=None)
    return replace(entry, remark=remark, corrected=True, recounted=False, confirmed=False)


def _all_of(entry: Entry, step: str | None) -> Entry:
    """Put an entry on a step, with all of its findings, whatever step each was of."""
    findings = tuple(replace(finding, own_step=None) for finding in entry.findings)
    remark = replace(entry.remark, findings=findings)
    return replace(entry, step=step, findings=findings, remark=remark)


def _made_of(event: StepEvent, base: Entry) -> Entry:
    remark = replace(event.remark, confidence=None)
    return replace(
        base,
        kind=_correctable(event.kind),
        step=event.step,
        remark=remark,
        findings=remark.findings,
        warnings=event.warnings,
        answer=event.answer,
        finishes=event.finishes,
        alternatives=(),
    )


def _with_findings(entry: Entry, findings: tuple[Finding, ...]) -> Entry:
    return replace(entry, findings=findings, remark=replace(entry.remark, findings=findings))


def _pieces(session: Session, old: Entry, pieces: Sequence[Entry]) -> tuple[Entry, ...]:
    """Number the pieces of `old`: the first keeps its number, the others get new ones."""
    fresh = count(session.last_seq + 2)
    origins = _origins(old)
    numbered = [replace(piece, seq=next(fresh), origins=origins) for piece in pieces[1:]]
    first = replace(pieces[0], origins=origins if numbered else old.origins)
    return (first, *numbered)


def _origins(*entries: Entry) -> tuple[int, ...]:
    found = [seq for entry in entries for seq in entry.origins or (entry.seq,)]
    return tuple(dict.fromkeys(found))


def _in_place(new: Sequence[Entry]) -> Correction:
    return Correction(amends=tuple(entry.seq for entry in new), becomes=tuple(new))


def _several(session: Session, seqs: Iterable[int]) -> list[Entry]:
    by_seq = {entry.seq: entry for entry in session.entries}
    found = [_checked(by_seq.get(seq), seq) for seq in dict.fromkeys(seqs)]
    if not found:
        raise BadInput("no entry was given", mend="give the number of one or more")
    return found


def _standing(session: Session, seq: int) -> Entry:
    return _checked(session.entry(seq), seq)


def _checked(entry: Entry | None, seq: int) -> Entry:
    if entry is None:
        raise _no_entry(seq)
    if entry.struck:
        raise BadInput(f"entry {seq} was struck", mend="restore it first")
    if entry.kind not in CORRECTABLE:
        raise BadInput(
            f"entry {seq} ({entry.kind}) records nothing about the job",
            mend="correct the entry that it was about",
        )
    return entry


def _no_entry(seq: int) -> BadInput:
    return BadInput(f"there is no entry {seq}", mend="give the number of one that stands")


def _correctable(kind: EventKind) -> EventKind:
    if kind not in CORRECTABLE:
        raise BadInput(
            f"an entry cannot become {kind} by hand", mend="type what was found or done instead"
        )
    return kind


def _time(session: Session, number: int, t: float) -> float:
    sitting = next((one for one in session.sittings if one.number == number), None)
    if sitting is None:
        raise BadInput(f"there is no sitting {number}", mend="give one of the session's")
    if not (math.isfinite(t) and 0 <= t <= sitting.seconds):
        raise BadInput(
            f"{t:g} s is outside sitting {number}, which lasts {sitting.seconds:.0f} s",
            mend="give a time within it",
        )
    return round(t, 3)


def _later(wall: str, seconds: float) -> str:
    try:
        moved = datetime.fromisoformat(wall) + timedelta(seconds=seconds)
    except (ValueError, OverflowError):
        return wall
    return moved.isoformat(timespec="seconds")
