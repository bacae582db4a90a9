"""A session seen again from its end: what was said later tells where earlier remarks belong."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from msgspec.structs import replace

from benchvoice.follow.align import Aligner, Item, Placement, aligner_of
from benchvoice.follow.asked_for import asked_for, back_instead
from benchvoice.follow.begun import Said, without_counts
from benchvoice.follow.events import COMMANDED, sure_of
from benchvoice.follow.guess import command_item, finding_item
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.session.values import Entry, Session

SURE = 0.6
"""From which chance a remark is moved from the step that it was put with when it was said."""

TELLS = 1.0
"""Log odds from which what is said of a thing tells of a step other than the one that it was said
to be under way (common practice, no source)."""

_FOLLOWING = frozenset({"noted", "photo", "unclear", "recounted", "struck"})
"""Kinds that have no step but that of the remark before."""


def placed(session: Session, outline: Outline | None, pack: Pack | None = None) -> Session:
    """Give the session with each remark at the step that the whole of it makes likeliest.

    Steps named by commands, those of entries corrected by hand, and those that ask for what was
    said (`asked_for`) are taken as known.  What was recorded with the step that a command told
    leaves it only for what it says itself, never for how jobs go: of two clutches that are alike
    plates are of the one that was named.  With a `pack` the engine's further
    texts count as well.  What was not understood is put where its words belong.  Entries
    that are moved have the step they were recorded with in `placed_from`.  Nothing is written;
    without an outline, or with one that is not the session's, the session is as it was.
    """
    if outline is None or not _is_of(session, outline):
        return session
    said = [
        Said("struck" if one.struck else one.kind, one.step, () if one.struck else one.findings)
        for one in session.entries
    ]
    uncounted = without_counts(said, outline)
    kept = [
        (at, item)
        for at, (entry, findings) in enumerate(zip(session.entries, uncounted, strict=True))
        if (item := _item(replace(entry, findings=findings), outline, pack))
    ]
    aligner = aligner_of(outline)
    places = aligner.place_all([item for _, item in kept])
    entries = list(session.entries)
    told: str | None = None
    begun: str | None = None
    for (at, item), place in zip(kept, places, strict=True):
        if item.step is None:
            here = told if entries[at].kind == "finding" else None
            kept_at = _kept(place, item, here, entries[at].step, aligner)
            entries[at] = _moved(entries[at], _going_in(kept_at, entries[at], begun, outline))
        elif session.entries[at].kind in COMMANDED:
            told = item.step
            begun = told if session.entries[at].kind == "started" else begun
    by_themselves = {at for at, _ in kept}
    return replace(session, entries=_followed(session.entries, entries, by_themselves))


def _is_of(session: Session, outline: Outline) -> bool:
    steps = {entry.step for entry in session.entries} - {None}
    return bool(steps) and steps <= outline.by_id.keys()


def _item(entry: Entry, outline: Outline, pack: Pack | None) -> Item | None:
    if entry.struck:
        return None
    remark = entry.remark
    if entry.kind == "unclear" and remark.kind == "unclear" and remark.heard:
        return finding_item((), remark.heard, sure_of(remark), entry.alternatives, pack)
    if entry.kind == "finding":
        step = outline.by_id.get(entry.step or "")
        sure = entry.corrected or (step is not None and asked_for(step, outline, entry.findings))
        if sure:
            return Item(entry.findings, remark.heard, step=entry.step)
        others = entry.alternatives
        return finding_item(entry.findings, remark.heard, sure_of(remark), others, pack)
    if entry.kind in COMMANDED:
        return command_item(entry.kind, entry.step, entry.finishes)
    return None


def _kept(
    place: Placement, item: Item, told: str | None, step: str | None, aligner: Aligner
) -> Placement:
    """Leave with the step that a command `told` what says as much of it as of another."""
    if told is None or told != step or {place.step, *place.findings} == {told}:
        return place
    each = tuple(
        one if aligner.odds(item, at, one, told) >= TELLS else told
        for at, one in enumerate(place.findings)
    )
    return place._replace(step=told if told in each else place.step, findings=each)


def _going_in(place: Placement, entry: Entry, begun: str | None, outline: Outline) -> Placement:
    """Put with the step that puts it back what is said while a unit goes together."""
    back = back_instead(entry.findings, begun, outline)
    findings = tuple(back.get(one, one) for one in place.findings)
    return place._replace(step=back.get(place.step, place.step), findings=findings)


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


def _followed(
    before: Sequence[Entry], after: Sequence[Entry], by_themselves: Collection[int]
) -> tuple[Entry, ...]:
    """Let notes, photos and the like go with the remark that they came after."""
    done: list[Entry] = []
    was: str | None = None
    now: str | None = None
    for at, (old, new) in enumerate(zip(before, after, strict=True)):
        follows = old.kind in _FOLLOWING and old.step == was != now and at not in by_themselves
        done.append(replace(new, step=now, placed_from=old.step) if follows else new)
        if not old.struck and old.kind not in _FOLLOWING:
            was, now = old.step, new.step
    return tuple(done)
