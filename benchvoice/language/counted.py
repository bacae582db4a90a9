"""Numbers of things: of the noun that follows, of the one before, or of what was told before it."""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.language import ahead, elsewhere, readings
from benchvoice.language.assembly import Assembly
from benchvoice.language.chunks import Chunk
from benchvoice.language.draft import Draft
from benchvoice.language.of_them import HELD
from benchvoice.remark import Ambiguity

_VALUED = {("be", "is"), ("be", "was"), ("action", "measured")}
"""What a value stands behind, and no count."""
_PREPOSITIONS = frozenset("on at in to for under over".split())


def on_count(work: Assembly, chunk: Chunk, at: int) -> None:
    """A number of things: of the noun that follows, or of the one before ("bolts, eight")."""
    current = work.current
    if current is not None and work.before == "out of" and current.count == chunk.value:
        return
    if work.before == "not":
        work.negated = False
        if at != 1 or work.chunks[0].value != "no" or not ahead.noun(work.chunks, at + 1):
            return  # "tray 3, not 4"; but "no twelve bolts" puts a count right
    if not ahead.noun(work.chunks, at + 1) and _counts_nothing(work, at):
        work.unused.append(chunk)  # "on one side", "at six tons"
    elif ahead.noun(work.chunks, at + 1):
        if not _counts_current(work, chunk.value, at):
            _count_ahead(work, chunk)
    elif work.before in ("quantity", "be") and readings.unmeasured(work):
        readings.on_whole_number(work, chunk)
    elif current is None or current.part is None:
        next_of_no_noun(work)
        if _told_of_others(work, at):
            work.push_waiting()
        work.waiting.count = chunk.value
    elif current.joined and _of_each(work.chunks, at + 1):
        for draft in work.targets():
            draft.count = draft.count or chunk.value  # "bolts and washers six of each"
    else:
        _count_behind(work, current, chunk, at)


def _of_each(chunks: Sequence[Chunk], at: int) -> bool:
    return ahead.kind(chunks, at + (ahead.word_before(chunks, at + 1) == "of")) == "all"


def _counts_nothing(work: Assembly, at: int) -> bool:
    """Whether a number follows a preposition, or counts what nobody knows after a part."""
    before = work.chunks[at - 1] if at else None
    if before is not None and before.kind in ("word", "stray") and before.value in _PREPOSITIONS:
        return True
    if before is not None and (before.kind, before.value) in _VALUED:
        return not readings.unmeasured(work)  # "new is eighty", "the gauge reads twelve"
    current = work.current
    unknown = ahead.kind(work.chunks, at + 1) == "unknown"
    if current is None or current.part is None:
        return unknown and not ahead.noun(work.chunks, at + 2)  # "ten minutes, no leaks"
    return unknown and (current.count is None or not current.bare())


def next_of_no_noun(work: Assembly) -> None:
    """ "Long ones at the bottom, four short on top": what was said so far is whole."""
    put = work.waiting.place is not None or work.waiting.container is not None
    if work.waiting.size is not None and put:
        work.push_waiting()


def _told_of_others(work: Assembly, at: int) -> bool:
    """ "One torn one ok", "six long two short": so many were told of already."""
    waiting = work.waiting
    if waiting.count is not None and waiting.size is not None:
        return ahead.kind(work.chunks, at + 1) == "relative" or ahead.predicate(work.chunks, at + 1)
    return waiting.told() and ahead.predicate(work.chunks, at + 1)


def _count_ahead(work: Assembly, chunk: Chunk) -> None:
    """A count of the noun that follows."""
    if work.waiting.count is not None and work.waiting.size is not None:
        work.headless.append(work.waiting)  # "eight long and four short bolts"
        work.waiting = Draft()
    last = work.waiting.count
    work.waiting.count = chunk.value
    if last is not None and chunk.value not in (last, last + 1):
        work.unused.append(chunk)  # neither said twice nor counting aloud
        work.waiting.count = None


def _count_behind(work: Assembly, current: Draft, chunk: Chunk, at: int) -> None:
    """A count of the noun before, of some of it, or of nothing."""
    predicate = ahead.predicate(work.chunks, at + 1)
    if ahead.kind(work.chunks, at + 1) == "each side" and current.count == 2 * chunk.value:
        return  # "sixteen bolts, eight a side"
    if _no_unit(work, current, chunk, at):
        text = f"{chunk.value} {work.chunks[at + 1].value}"
        readings = f"{chunk.value} of them", f"a length of {chunk.value}"
        work.ambiguous.append(Ambiguity(text=text, readings=readings))
        work.unused.append(chunk)
    elif _of_holding(current, chunk.value):
        work.push(Draft(place=current.part, action=current.action, count=chunk.value))
    elif _numbered(work, current) and (chunk.value > 1 or work.before == "noun"):
        work.unused.append(chunk)  # "gear two" is one gear, or two of them
    elif current.count is None and (current.bare() or current.only_placed() or not predicate):
        current.count = chunk.value
    elif work.before == "all" and current.count is None and current.plural:
        current.count = chunk.value  # "plungers scored, all three replace"
    elif _of_some(work, current, chunk, at):
        work.push_same(None)
        work.drafts[-1].some = chunk.value
    elif ahead.kind(work.chunks, at + 1) == "relative" or elsewhere.counted_on_side(work, at):
        work.push_same(chunk.value)  # "six short bolts and two long ones"
    elif current.count == chunk.value and current.bare():
        return
    elif predicate and (current.count is None or chunk.value <= current.count):
        work.push_same(chunk.value)  # "eight bolts one cracked": one of the bolts
    else:
        _two_counts(work, current, chunk)
        if predicate and not current.bare():
            work.push_same(None)  # "bearing one good, two bad": of others, but of how many?


def _no_unit(work: Assembly, current: Draft, chunk: Chunk, at: int) -> bool:
    """ "Four bolts, 35 long": more than were counted are no part of them, but may be a length."""
    after = work.chunks[at + 1] if at + 1 < len(work.chunks) else chunk
    long = after.kind == "relative" and after.value == "long" and after.end - after.start == 1
    contrast = current.size is not None and current.size.relative is not None
    return long and not contrast and current.count is not None and chunk.value > current.count


def _of_some(work: Assembly, current: Draft, chunk: Chunk, at: int) -> bool:
    """ "Eleven bolts, one is two inch long": of some of them, and no bolt more."""
    after = at + 1
    while ahead.kind(work.chunks, after) in ("be", "it", "word"):
        after += 1
    sized = ahead.kind(work.chunks, after) in ("size", "relative", "reading") and after > at + 1
    return sized and current.count is not None and chunk.value < current.count


def _of_holding(current: Draft, count: int) -> bool:
    """ "Cover off, eight in a tray": one cover is off, and eight of what held it."""
    held = current.kind in HELD and not current.plural and count > 1
    return held and current.count is None and current.action is not None


def _numbered(work: Assembly, current: Draft) -> bool:
    """Whether a number after this may tell which one; nobody numbers bolts."""
    return (
        current.count is None
        and (current.bare() or work.before == "noun")
        and current.kind != "fastener"
        and not current.plural
    )


def _two_counts(work: Assembly, current: Draft, chunk: Chunk) -> None:
    """ "eight bolts ten": one of them is wrong, and nothing tells which."""
    work.unused.append(chunk)
    if current.count is not None and current.bare():
        readings = str(current.count), str(chunk.value)
        work.ambiguous.append(Ambiguity(text=" ".join(readings), readings=readings))
        current.count = None


def _counts_current(work: Assembly, count: int, at: int) -> bool:
    """ "bolts 8 washers 8", "bolts eleven pump cover": the count follows its noun."""
    current = work.current
    if current is None or not current.bare() or not current.plural:
        return False
    if current.count is None:
        after = work.chunks[at + 1]
        place = after.kind == "noun" and after.value.kind in ("place", "housing")
        if ahead.count_after_noun(work.chunks, at + 1) or (place and not after.value.plural):
            current.count = count
            return True
    return current.count == count and ahead.singular(work.chunks, at + 1)
