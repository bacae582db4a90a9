"""A session seen again from its end: what was said later tells where earlier remarks belong."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from benchvoice.follow.align import Item, Placement, aligner_of
from benchvoice.follow.asked_for import asked_for
from benchvoice.follow.guess import COMMANDED, command_item
from benchvoice.grammar.outline import Outline
from benchvoice.session.values import Entry, Session

SURE = 0.6
"""From which chance a remark is moved from the step that it was put with when it was said."""

_FOLLOWING = frozenset({"noted", "photo", "unclear", "recounted", "struck"})
"""Kinds that have no step but that of the remark before."""


def placed(session: Session, outline: Outline | None) -> Session:
    """Give the session with each remark at the step that the whole of it makes likeliest.

    Steps named by commands, those of entries corrected by hand, and those that ask for what was
    said (`asked_for`) are taken as known.  Entries
    that are moved have the step they were recorded with in `placed_from`.  Nothing is written;
    without an outline, or with one that is not the session's, the session is as it was.
    """
    if outline is None or not _is_of(session, outline):
        return session
    kept = [
        (at, item) for at, entry in enumerate(session.entries) if (item := _item(entry, outline))
    ]
    places = aligner_of(outline).place_all([item for _, item in kept])
    entries = list(session.entries)
    for (at, item), place in zip(kept, places, strict=True):
        if item.step is None:
            entries[at] = _moved(entries[at], place)
    return replace(session, entries=_followed(session.entries, entries))


def _is_of(session: Session, outline: Outline) -> bool:
    steps = {entry.step for entry in session.entries} - {None}
    return bool(steps) and steps <= outline.by_id.keys()


def _item(entry: Entry, outline: Outline) -> Item | None:
    if entry.struck:
        return None
    if entry.kind == "finding":
        step = outline.by_id.get(entry.step or "")
        sure = entry.corrected or (step is not None and asked_for(step, outline, entry.findings))
        known = entry.step if sure else None
        return Item(entry.findings, entry.remark.heard, step=known)
    if entry.kind in COMMANDED:
        return command_item(entry.kind, entry.step, entry.finishes)
    return None


def _moved(entry: Entry, place: Placement) -> Entry:
    if place.chance < SURE:
        return entry
    step = place.step
    own = [None if one == step else one for one in place.findings]
    findings = tuple(
        replace(finding, own_step=other) for finding, other in zip(entry.findings, own, strict=True)
    )
    if step == entry.step and findings == entry.findings:
        return entry
    before = None if step == entry.step else entry.step
    return replace(entry, step=step, findings=findings, placed_from=before)


def _followed(before: Sequence[Entry], after: Sequence[Entry]) -> tuple[Entry, ...]:
    """Let notes, photos and the like go with the remark that they came after."""
    done: list[Entry] = []
    was: str | None = None
    now: str | None = None
    for old, new in zip(before, after, strict=True):
        follows = old.kind in _FOLLOWING and old.step == was != now
        done.append(replace(new, step=now, placed_from=old.step) if follows else new)
        if not old.struck and old.kind not in _FOLLOWING:
            was, now = old.step, new.step
    return tuple(done)
