"""The order of a stack as it was said, against the outline's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.ledger_values import Ledger, StackLine
from benchvoice.follow.likeness import part_likeness
from benchvoice.grammar.outline import Hardware, Outline, Step


class _Spot(NamedTuple):
    """From where to where in a stack a part may lie, counted from what comes off first."""

    low: int
    high: int


_OVER, _FIRST, _INNER, _LAST, _UNDER = range(5)
_ANYWHERE = _Spot(_OVER, _UNDER)


def stack_complaint(
    stack: StackLine, step: Step | None, *, finished: bool = False
) -> Iterator[str]:
    """Yield what is wrong with the order said of a stack of `step`.

    It may be said from either end, and in part.  Its parts are the step's hardware from the first
    to the last of it as they are listed; what is listed before lies over it, what is listed after,
    under it.  An order that cannot be is told at any time, one that does not reach from end to end
    only when the step is `finished`.
    """
    if not stack.order or step is None or stack.first is None or stack.last is None:
        return
    ways = [way for way in (stack.order, stack.order[::-1]) if _can_be(way, stack, step)]
    if not ways:
        yield (
            f"{stack.name}: {stack.first} first and {stack.last} last expected, "
            f"{stack.order[0]} first and {stack.order[-1]} last said"
        )
    elif finished:
        lacks = [tuple(_lacking(way, stack, step)) for way in ways]
        yield from min(lacks, key=len)


def going_in_complaint(
    said: StackLine, book: Ledger, outline: Outline, *, finished: bool = False
) -> Iterator[str]:
    """Yield what is wrong with an order said while a step puts stacks of other steps back.

    As `stack_complaint`, but told as they go in: the last off first.  Without its place an order
    is wrong only when it is so of each of them.
    """
    step = outline.by_id.get(said.step)
    wrong = [
        [*_wrong_going_in(replace(stack, order=said.order), home, finished=finished)]
        for stack in book.stacks
        if step and stack.step in step.puts_back and said.place in (None, stack.place)
        for home in (outline.by_id.get(stack.step),)
    ]
    if wrong and all(wrong):
        yield from wrong[0]


def _wrong_going_in(stack: StackLine, step: Step | None, *, finished: bool) -> Iterator[str]:
    if not stack.order or step is None or stack.first is None or stack.last is None:
        return
    ends = (
        f"{stack.name}: {stack.last} in first and {stack.first} in last expected, "
        f"{stack.order[0]} first and {stack.order[-1]} last said"
    )
    ways = [way for way in (stack.order, stack.order[::-1]) if _can_be(way, stack, step)]
    if not ways:
        yield ends
    elif finished:
        best = min(ways, key=lambda way: len([*_lacking(way, stack, step)]))
        yield from _left_out(best, stack, step)
        yield from [ends] if [*_ends(best, stack, step)] else []


def as_it_came_off(stack: StackLine, step: Step | None) -> tuple[str, ...]:
    """Give the order from the first off to the last, from whichever end it was said."""
    return stack.order[::-1] if _from_within(stack, step) else stack.order


def _from_within(stack: StackLine, step: Step | None) -> bool:
    if step is None or stack.first is None or stack.last is None:
        return False
    as_off, as_in = (
        _can_be(way, stack, step) - 0.1 * len([*_lacking(way, stack, step)])
        for way in (stack.order, stack.order[::-1])
    )
    return as_in > as_off


def _can_be(order: Sequence[str], stack: StackLine, step: Step) -> bool:
    spots = [_spot(part, stack, step) for part in order]
    reached = _OVER
    for spot in spots:
        reached = max(reached, spot.low)
        if reached > spot.high:
            return False
    return not any(
        (above.high == _OVER and below.low > _FIRST) or (below.low == _UNDER and above.high < _LAST)
        for above, below in pairwise(spots)
    )


def _spot(part: str, stack: StackLine, step: Step) -> _Spot:
    item = _listed(part, step)
    if item is None or stack.first is None or stack.last is None:
        return _ANYWHERE
    first, last = (_listed(one, step) for one in (stack.first, stack.last))
    if item in (first, last):
        several = item.several or first == last
        if item == first:
            return _Spot(_FIRST, (_LAST if first == last else _INNER) if several else _FIRST)
        return _Spot(_INNER if several else _LAST, _LAST)
    if first is None or last is None:
        return _ANYWHERE
    order = list(step.hardware)
    at, top, end = order.index(item), order.index(first), order.index(last)
    if min(top, end) < at < max(top, end):
        return _Spot(_INNER, _INNER)
    over = (at < top) == (top < end)
    return _Spot(_OVER, _OVER) if over else _Spot(_UNDER, _UNDER)


def _listed(part: str, step: Step) -> Hardware | None:
    likes = [(part_likeness(part, item.part), item) for item in step.hardware]
    best = max((like for like, _ in likes), default=0.0)
    return next((item for like, item in likes if like == best > 0), None)


def _lacking(order: Sequence[str], stack: StackLine, step: Step) -> Iterator[str]:
    """Yield what a whole order would have, from the first off to the last."""
    yield from _left_out(order, stack, step)
    yield from _ends(order, stack, step)


def _own(order: Sequence[str], stack: StackLine, step: Step) -> list[str]:
    """The parts of an order that are the stack's own, not what lies over or under it."""
    outside = ((_OVER, _OVER), (_UNDER, _UNDER))
    return [part for part in order if _spot(part, stack, step) not in outside]


def _left_out(order: Sequence[str], stack: StackLine, step: Step) -> Iterator[str]:
    said = [_listed(part, step) for part in _own(order, stack, step)]
    for item in step.hardware:
        spot = _spot(item.part, stack, step)
        if spot.low >= _FIRST and spot.high <= _LAST and item not in said:
            yield f"{stack.name}: {item.part} not in the order said"


def _ends(order: Sequence[str], stack: StackLine, step: Step) -> Iterator[str]:
    own = _own(order, stack, step)
    said = [_listed(part, step) for part in own]
    for at, end, name in ((0, stack.first, "first"), (-1, stack.last, "last")):
        outer = _listed(end or "", step)
        if outer in said and said[at] != outer:
            yield f"{stack.name}: {end} {name} expected, {own[at]} {name} said"
