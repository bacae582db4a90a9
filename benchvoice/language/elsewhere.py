"""Another one of a part, told by where it is: "rear bearing spalled, front ok"."""

from __future__ import annotations

from benchvoice.language import ahead
from benchvoice.language.assembly import Assembly

_SIDES = ("left", "right", "port", "starboard")


def begins(work: Assembly, at: int) -> bool:
    """Whether a mere location begins anew: what has its state is elsewhere, and a state follows."""
    current = work.current
    if current is None or current.part is None:
        return False
    if not (current.conditions or current.disposition):
        return False
    if work.waiting.count is not None or work.waiting.conditions or work.chunks[at].value.plural:
        return False
    placed = current.kind == "place" or current.where is not None or current.place is not None
    one = ahead.kind(work.chunks, at + 1) == "count" and work.chunks[at + 1].value == 1
    return placed and (work.again or ahead.state(work.chunks, at + 1 + one))  # "rear one ok"


def another_which(work: Assembly, which: str) -> bool:
    """Whether a "rear one" is another than the one whose name tells where it is."""
    current = work.current
    if current is None or current.part is None:
        return False
    where = current.where or (current.place if current.kind == "fastener" else None)
    return where not in (None, which) and not current.bare()


def open_at(work: Assembly, place: str) -> None:
    """Go on with another one of the same part, at a place."""
    last = work.current
    assert last is not None and last.part is not None
    work.push_same(None)
    draft = work.drafts[-1]
    if work.again:
        draft.conditions, work.again = list(last.conditions), False
    if last.kind == "place":
        draft.part = place
    elif last.where is not None:
        draft.where, draft.part = place, place + last.part.removeprefix(last.where)
    else:
        draft.place = place


def counted(work: Assembly) -> bool:
    """Whether so many are elsewhere than those before: "six bolts front, four rear"."""
    current = work.current
    if current is None or current.part is None or current.kind == "place":
        return False
    only_count = work.waiting.bare() and work.waiting.size is None
    return bool(current.count and current.place and work.waiting.count and only_count)


def open_counted(work: Assembly, place: str) -> None:
    """Go on with so many of the same part at another place."""
    count, work.waiting.count = work.waiting.count, None
    work.push_same(count)
    work.drafts[-1].place = place


def counted_next(work: Assembly, at: int) -> bool:
    """Whether so many are told of at another place: "bolts on the top four on the end eight"."""
    current = work.current
    told = current is not None and bool(current.placed and current.count)
    count = ahead.kind(work.chunks, at + 1) == "count" and not ahead.noun(work.chunks, at + 2)
    return told and count and work.before == "count"


def counted_on_side(work: Assembly, at: int) -> bool:
    """Whether so many are on the other side: "two bolts on the left three on the right"."""
    current = work.current
    if current is None or not current.count:
        return False
    side = current.side or next(
        (one for one in _SIDES if one in (current.place or "").split()), None
    )
    after = work.chunks[at + 1] if at + 1 < len(work.chunks) else None
    return after is not None and after.kind == "side" and side not in (None, after.value)


def on_other_side(work: Assembly, side: str, at: int) -> bool:
    """Go on with the one of the other side where a side begins anew; gives whether it does."""
    last = work.current
    if last is None or last.side in (None, side) or not last.conditions:
        return False
    if not ahead.state(work.chunks, at + 1):
        return False
    work.push_same(None)
    work.drafts[-1].place, work.drafts[-1].side = last.place, side
    return True
