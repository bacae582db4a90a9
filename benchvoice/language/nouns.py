"""What opens a finding, and what belongs to its name: nouns, sizes, which of several."""

from __future__ import annotations

from benchvoice.language import ahead, elsewhere
from benchvoice.language.assembly import Assembly
from benchvoice.language.chunks import Chunk
from benchvoice.language.counted import next_of_no_noun
from benchvoice.language.draft import Draft
from benchvoice.language.noun_phrases import Noun
from benchvoice.language.of_them import HELD
from benchvoice.remark import Ambiguity, Size

_NO_PLACE = frozenset({"fastener", "seal", "spring", "plate", "fluid"})
"""Kinds of parts that nothing is bolted to: named after bolts they are the next of a list."""

_TOLD = frozenset({"be", "unknown", "stray"})
"""What comes after a part of which something of its own is told, even if nobody knows what."""

_ON = frozenset("on in at under off from".split())

_AFTER_NOT = frozenset({"not", "ordinal", "relative", "last", "new", "other"})
"""What stands before a noun that is denied: "no gasket", "no second seal"."""


def on_noun(work: Assembly, chunk: Chunk, at: int) -> None:
    """A part or place: opens a finding, or says where or which the open one is."""
    noun: Noun = chunk.value
    current = work.current
    if noun.kind == "fluid" and current is not None and ahead.said_with(work.chunks, at):
        if current.action == "filled":
            current.place = current.place or current.part  # "filled the case with oil"
            _fill(current, noun)
        else:
            work.unused.append(chunk)  # "o rings in with grease"
    elif noun.kind == "place" and elsewhere.begins(work, at):
        elsewhere.open_at(work, noun.name)
    elif noun.kind == "place" and elsewhere.counted(work) and not noun.plural:
        elsewhere.open_counted(work, noun.name)
    elif _is_place_of_current(work, noun, at) or _of_those(work, noun, at):
        work.set_place(noun.name)
    elif (
        current is not None
        and current.quantity
        and current.part is None
        and not (work.waiting.count or (work.joined and not _after_comma(work, at)))
        and not {work.before, ahead.kind(work.chunks, at + 1)} & {"stray", "unknown"}
    ):
        _fill(current, noun)  # "end play twelve thou input shaft"
    elif _says_again(work, noun, at):
        assert current is not None
        _fill(current, noun)
        current.count = work.waiting.count or current.count
        current.take(work.waiting)
        work.waiting = Draft()
    else:
        _drop_others_count(work, at)
        _open(work, noun, at)


def _drop_others_count(work: Assembly, at: int) -> None:
    """ "Eight heads on the wheel hub": so many of what nobody knows, and no eight hubs."""
    since = at - 1
    while since >= 0 and work.chunks[since].kind not in ("count", "noun"):
        since -= 1
    between = work.chunks[since + 1 : at]
    counted = since >= 0 and work.chunks[since].kind == "count" and work.waiting.count
    if counted and any(one.kind == "word" and one.value in _ON for one in between):
        work.unused.append(work.chunks[since])
        work.waiting.count = None


def _open(work: Assembly, noun: Noun, at: int) -> None:
    if work.current is not None and not work.current.bare():
        work.everything = False  # "steels all clean, frictions burnt"
    draft, work.waiting = work.waiting, Draft()
    if draft.measure is not None and draft.count is not None and draft.quantity != "torque":
        count, draft.count = draft.count, None
        work.push(draft)
        draft = Draft(count=count)
    _fill(draft, noun)
    draft.denied = work.negated and work.before in _AFTER_NOT
    said = ahead.all_before(work.chunks, at)
    if said is not None:
        draft.count = draft.count or (2 if said.startswith("both") else None)
        work.everything = False
    draft.joined = work.joined
    conj = next((one for one in reversed(work.chunks[:at]) if one.kind == "conj"), None)
    draft.after_comma = work.joined and conj is not None and conj.value == ","
    named = draft.after_comma and draft.count is None
    if named and any(draft.part == one.part and one.count for one in work.drafts):
        draft.joined = False  # "two bolts and four washers, washers to replace"
    _take_heading(work, draft)
    _drop_false_start(work, draft)
    if work.again and work.current is not None:
        draft.conditions = list(work.current.conditions)
        draft.disposition = draft.disposition or work.current.disposition
        work.again = False
    if work.forward is not None and getattr(draft, work.forward[0]) is None:
        after = ahead.kind(work.chunks, at + 1)
        told = after in _TOLD or (after != "all" and ahead.state(work.chunks, at + 1))
        if told and work.drafts:
            work.forward = None  # "replace the seal, gasket is good"
        else:
            setattr(draft, *work.forward)
    for other in work.headless:
        _fill(other, noun._replace(relative=None))
        work.push(other)
        draft.joined = True
    work.headless = []
    draft.whole = work.before == "all"
    work.push(draft)


def _fill(draft: Draft, noun: Noun) -> None:
    draft.part, draft.kind, draft.plural = noun.name, noun.kind, noun.plural
    draft.where = noun.where
    draft.place = draft.place or noun.place
    both = draft.side is not None and noun.side not in (None, draft.side)
    draft.side = None if both else draft.side or noun.side  # "left and right bearings"
    if noun.relative is not None:
        draft.add_size(Size(relative=noun.relative))


def _says_again(work: Assembly, noun: Noun, at: int) -> bool:
    """ "bearing bearing out", "seal the inner lip seal": begun anew, not a second one."""
    current = work.current
    if current is None or current.part is None or not current.bare() or work.joined:
        return False
    if current.count is not None and work.waiting.count not in (None, current.count):
        return False
    if current.size is not None and (work.waiting.count is not None or noun.relative is not None):
        return False  # "four bolts inch long four bolts two inch long"
    there = noun.place or noun.side or ahead.kind(work.chunks, at + 1) in ("side", "place")
    if there and (current.side or current.place):
        return False  # "one bolt top one bolt bottom"
    return noun.name == current.part or noun.name.endswith(" " + current.part)


def _take_heading(work: Assembly, draft: Draft) -> None:
    """ "pump cover eight bolts": the first is where the second are."""
    last = work.current
    if last is None or last.count is not None:
        return
    if _after_heading(work, last) and draft.kind == "fastener" and draft.count is not None:
        draft.place = draft.place or last.part
        return
    if not last.bare() or draft.joined:
        return
    fits = last.kind in ("place", "housing") or draft.kind == "fastener"
    if fits and draft.count is not None and draft.place is None and not last.plural:
        work.drafts.remove(last)
        draft.place = last.part


def _after_heading(work: Assembly, last: Draft) -> bool:
    """ "End cover on, nine bolts": a cover, and after a comma what holds it."""
    alone = len(work.drafts) == 1 and not (last.conditions or last.disposition or last.placed)
    comma = any(one.kind == "conj" and one.value == "," for one in work.chunks)
    return last.kind in HELD and not last.plural and alone and work.joined and comma


def _drop_false_start(work: Assembly, draft: Draft) -> None:
    """ "cover front cover bolts": the first word was only the start of the place."""
    last = work.current
    if last is None or not last.bare() or last.count is not None or draft.place is None:
        return
    if last.part is not None and draft.place.endswith(" " + last.part) and last in work.drafts:
        work.drafts.remove(last)


def _is_place_of_current(work: Assembly, noun: Noun, at: int) -> bool:
    """A location said without a preposition: "eight bolts front", "4 bolts, side cover"."""
    current = work.current
    if noun.plural or work.waiting.count is not None or work.waiting.conditions:
        return False
    if current is None:
        return False
    if noun.kind == "place":
        told = ahead.kind(work.chunks, at + 1) == "condition" or ahead.state(work.chunks, at + 1)
        if current.conditions and told:
            return False  # "seals hard bore smooth"
        return not work.joined or (work.before == "conj" and at == len(work.chunks) - 1)
    if current.kind != "fastener" or current.place is not None or noun.kind in _NO_PLACE:
        return False
    if work.joined and not _after_comma(work, at):
        return False
    if ahead.kind(work.chunks, at + 1) == "action":
        return current.count is not None and noun.kind == "housing"  # "14 bolts pan off"
    free = work.before in ("noun", "size", "action", "count", "conj", "reading")
    lone = ahead.kind(work.chunks, at + 1) == "count" and not ahead.noun(work.chunks, at + 2)
    ends = ahead.kind(work.chunks, at + 1) in ("", "conj", "container", "all")
    return free and (lone or ends) and not ahead.state(work.chunks, at + 1)


def _of_those(work: Assembly, noun: Noun, at: int) -> bool:
    """ "Long ones top, short ones bottom": where they are of whom only the length was said."""
    ones = ahead.kind(work.chunks, at - 1) == "relative"
    several = ones and work.chunks[at - 1].end - work.chunks[at - 1].start > 1
    return work.current is None and several and noun.kind == "place" and not noun.plural


def _after_comma(work: Assembly, at: int) -> bool:
    return at > 0 and work.chunks[at - 1].kind == "conj" and work.chunks[at - 1].value == ","


def on_size(work: Assembly, chunk: Chunk, at: int) -> None:
    """A size goes to the noun after it, unless it follows one."""
    current = work.current
    follows = ahead.noun(work.chunks, at + 1)
    named = current is not None and (current.part or (current.count and not work.waiting.count))
    if current is None or not named or (follows and work.before != "noun"):
        work.waiting.add_size(chunk.value)
    else:
        work.size(at, chunk.value)


def on_relative(work: Assembly, chunk: Chunk, at: int) -> None:
    """Short, long, thick: a size, or what a reading was of ("eighty thou thick")."""
    if chunk.value == "thick" and work.reading is not None:
        work.measure("thickness", work.reading)
        return
    if work.unused and work.unused[-1].end == chunk.start and work.unused[-1].kind == "count":
        return  # "35 long" was not understood
    if ahead.kind(work.chunks, at + 1) == "tool":
        return  # "off with the big socket"
    if _too_few(work, chunk, at):
        return
    if chunk.end - chunk.start > 1 and work.current is None:
        next_of_no_noun(work)
    several = chunk.end - chunk.start > 1
    lone = not ahead.noun(work.chunks, at + 1)  # "thick one first then the thin"
    if (several and _of_others(work, at)) or ((several or lone) and _other_size(work, chunk)):
        work.push_same(None)  # "ten bolts off, the short ones at the bottom"
    on_size(work, chunk._replace(kind="size", value=Size(relative=chunk.value)), at)


def _too_few(work: Assembly, chunk: Chunk, at: int) -> bool:
    """ "Two bolts short": short ones or two too few; where long ones are named it is plain."""
    current = work.current
    if current is None or current.count is None:
        return False
    plain = any(
        one.kind in ("relative", "size", "reading") and one is not chunk for one in work.chunks
    )
    alone = chunk.value == "short" and chunk.end - chunk.start == 1 and work.before == "noun"
    if plain or not alone or ahead.kind(work.chunks, at + 1) not in ("", "conj"):
        return False
    readings = f"{current.count} short ones", f"{current.count} too few"
    work.ambiguous.append(Ambiguity(text=f"{current.count} short", readings=readings))
    work.unused.append(chunk)
    current.count = None
    return True


def _of_others(work: Assembly, at: int) -> bool:
    """Whether "short ones" goes on with some of the part named before it, to tell more of them."""
    current = work.current
    if current is None or current.part is None or work.waiting.count is not None:
        return False
    more = ahead.kind(work.chunks, at + 1) not in ("", "conj") and not ahead.noun(
        work.chunks, at + 1
    )
    return more and (not current.bare() or work.before == "conj")


def _other_size(work: Assembly, chunk: Chunk) -> bool:
    """Whether "long ones" come after short ones."""
    current = work.current
    if current is None or current.part is None or current.size is None:
        return False
    return current.size.relative not in (None, chunk.value)


def on_ordinal(work: Assembly, chunk: Chunk, at: int) -> None:
    """Which in a row: of the noun that follows."""
    if _told_of_current(work) and not ahead.noun(work.chunks, at + 1):
        assert work.current is not None
        work.current.ordinal = chunk.value  # "pressure plate first"
        return
    listed = work.before == "conj" and ahead.kind(work.chunks, at - 2) in ("ordinal", "last")
    again = listed or work.before in ("ordinal", "last")
    if ahead.noun(work.chunks, at + 1) and not again:
        work.waiting.ordinal = chunk.value
    else:
        work.waiting.ordinal = None  # "first second plate": one of them is wrong
        work.unused.append(chunk)


def _told_of_current(work: Assembly) -> bool:
    current = work.current
    if current is None or work.before != "noun" or not current.bare():
        return False
    return current.count is None and current.ordinal is None


def on_last(work: Assembly, chunk: Chunk, at: int) -> None:
    """The last in a row, written -1."""
    on_ordinal(work, chunk._replace(value=-1), at)


def on_new(work: Assembly, chunk: Chunk, at: int) -> None:
    """A new part: noted of the noun that follows, or of the one it is said of."""
    if work.negated and work.before == "not" and not ahead.noun(work.chunks, at + 1):
        work.negated = False
        work.unused.append(chunk)  # "bearing not new"
        return
    if ahead.noun(work.chunks, at + 1):
        work.waiting.new = True
        return
    if ahead.kind(work.chunks, at + 1) == "be":
        work.unused.append(chunk)  # "new is eighty thou"
        return
    for draft in work.targets():
        draft.new = True


def on_article(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "a seal" is one seal; "the seal" is not counted."""
    if chunk.value == "some" and work.before == "count" and work.waiting.count is not None:
        work.unused.append(work.chunks[at - 1])  # "twenty some bolts"
        work.waiting.count = None
    if chunk.value in ("a", "an") and ahead.noun(work.chunks, at + 1):
        work.waiting.count = work.waiting.count or 1


def on_which(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "seal, hard, the front one": which of the seals."""
    if work.negated:
        work.negated = False
        work.unused.append(chunk)  # "all good, not the front one"
    elif elsewhere.another_which(work, chunk.value):
        side = ahead.kind(work.chunks, at + 1) == "side"
        if not (side or work.again or ahead.predicate(work.chunks, at + 1)):
            work.unused.append(chunk)
        else:
            elsewhere.open_at(work, chunk.value)
    elif work.current is not None and (work.current.count or 0) > 1:
        work.unused.append(chunk)  # "shims front two rear one"
    elif work.current is not None and work.current.part is not None:
        if not work.current.part.startswith(f"{chunk.value} "):
            work.current.part = f"{chunk.value} {work.current.part}"
    else:
        work.unused.append(chunk)
