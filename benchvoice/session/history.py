"""Who changed what from what, and when."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from benchvoice.remark import Frozen
from benchvoice.session.standing import Standing, in_force
from benchvoice.session.values import Amendment, Entry, Session


class Change(Frozen, frozen=True, kw_only=True):
    """Entries as they stood before and after a change.

    `seq` is that of the amendment, or of the entry said at the bench; `what` is
    "corrected", "undone", "redone", "struck", "recounted" or "answered"; `wall`
    is ISO 8601.  `in_force` tells that nothing took it back since.
    """

    seq: int
    what: str
    wall: str
    who: str | None
    why: str = ""
    before: tuple[Entry, ...] = ()
    after: tuple[Entry, ...] = ()
    in_force: bool = True


def history(session: Session, seq: int | None = None) -> tuple[Change, ...]:
    """Give the changes of a session in their order: all, or those of one entry.

    Those of an entry include the entries that it was split or joined from, or into.
    """
    if seq is None:
        return tuple(_changes(session, session.recorded, session.amendments))
    related = _related(session.amendments, seq)
    recorded = [one for one in session.recorded if {one.seq, one.amends} & related]
    amendments = [one for one in session.amendments if one.touched & related or one.undoes]
    return tuple(
        change
        for change in _changes(session, recorded, amendments)
        if any(one.seq in related for one in (*change.before, *change.after))
    )


def _changes(
    session: Session, recorded: Sequence[Entry], amendments: Sequence[Amendment]
) -> Iterable[Change]:
    applied = in_force(session.amendments)
    records: list[Entry | Amendment] = sorted([*recorded, *amendments], key=lambda one: one.seq)
    undoes = {one.seq: one.undoes for one in amendments}
    state = Standing()
    for index, record in enumerate(records):
        before = _by_seq(state) if _is_undo(record) else _named(state, record)
        if isinstance(record, Amendment) and record.undoes is not None:
            state = _replayed(records[: index + 1])
            after = _by_seq(state)
        else:
            state.take(record)
            after = _named(state, record)
        changed = {seq for seq in before.keys() | after.keys() if before.get(seq) != after.get(seq)}
        if changed:
            yield Change(
                seq=record.seq,
                what=_what(record, undoes),
                wall=record.wall,
                who=record.who if isinstance(record, Amendment) else session.header.who,
                why=record.why if isinstance(record, Amendment) else "",
                before=tuple(entry for seq, entry in before.items() if seq in changed),
                after=tuple(entry for seq, entry in after.items() if seq in changed),
                in_force=not isinstance(record, Amendment) or record.seq in applied,
            )


def _named(state: Standing, record: Entry | Amendment) -> dict[int, Entry]:
    """Give the entries that a record is about, as they stand."""
    seqs: Iterable[int | None] = (record.amends,) if isinstance(record, Entry) else record.amends
    if isinstance(record, Amendment):
        seqs = dict.fromkeys((*record.amends, *(entry.seq for entry in record.becomes)))
    found = [state.get(seq) for seq in seqs if seq is not None]
    return {entry.seq: entry for entry in found if entry is not None}


def _by_seq(state: Standing) -> dict[int, Entry]:
    return {entry.seq: entry for entry in state.entries}


def _is_undo(record: Entry | Amendment) -> bool:
    return isinstance(record, Amendment) and record.undoes is not None


def _replayed(records: Sequence[Entry | Amendment]) -> Standing:
    applied = in_force([one for one in records if isinstance(one, Amendment)])
    state = Standing()
    for record in records:
        if isinstance(record, Entry) or record.seq in applied:
            state.take(record)
    return state


def _what(record: Entry | Amendment, undoes: dict[int, int | None]) -> str:
    if isinstance(record, Entry):
        return record.kind
    depth, target = 0, record.undoes
    while target is not None:
        depth, target = depth + 1, undoes.get(target)
    return "corrected" if depth == 0 else "undone" if depth % 2 else "redone"


def _related(amendments: Iterable[Amendment], seq: int) -> set[int]:
    """Give the entries that `seq` was split or joined from, or into, and itself."""
    related = {seq}
    linked = [one for one in amendments if set(one.amends) != {new.seq for new in one.becomes}]
    links = [
        {new.seq, *new.origins, *one.amends} if len(one.becomes) == 1 else {new.seq, *new.origins}
        for one in linked
        for new in one.becomes
    ]
    growing = True
    while growing:
        met = [link for link in links if link & related and not link <= related]
        related.update(*met)
        growing = bool(met)
    return related
