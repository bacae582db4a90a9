"""What several sessions of one kind of job did differently."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from itertools import combinations
from statistics import median

from benchvoice.outlining.facts import Facts
from benchvoice.outlining.values import HardwareKey


@dataclass(frozen=True, kw_only=True)
class Displaced:
    """A step done out of the usual order: in each session by name, after which step (None: first).

    `of` is how many sessions did the step.
    """

    step: str
    after: Mapping[str, str | None]
    of: int


@dataclass(frozen=True, kw_only=True)
class Differing:
    """A part whose number differed: `numbers` maps it to how many sessions said it."""

    key: HardwareKey
    numbers: Mapping[int, int]
    expected: int | None = None


@dataclass(frozen=True, kw_only=True)
class Extra:
    """A part that the outline does not list, in `seen` of the `of` sessions that did its step."""

    key: HardwareKey
    seen: int
    of: int


@dataclass(frozen=True, kw_only=True)
class StepTimes:
    """Worked minutes of a step over the sessions that timed it; `done` had it at all."""

    step: str
    done: int
    timed: int
    low: float
    middle: float
    high: float


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """What differed between sessions; `titles` maps step id to title."""

    sessions: tuple[str, ...]
    titles: Mapping[str, str]
    displaced: tuple[Displaced, ...]
    differing: tuple[Differing, ...]
    extra: tuple[Extra, ...]
    times: tuple[StepTimes, ...]


def compare(facts: Sequence[Facts]) -> Comparison:
    """Compare sessions; steps are in the order of `majority_order`."""
    order = majority_order([one.order for one in facts], {})
    return Comparison(
        sessions=tuple(one.session for one in facts),
        titles={step: title for one in facts for step, title in one.titles.items()},
        displaced=tuple(_displaced(facts, order)),
        differing=tuple(_differing(facts)),
        extra=tuple(_extra(facts)),
        times=tuple(_times(step, facts) for step in order),
    )


def majority_order(
    orders: Sequence[Sequence[str]], after: Mapping[str, Iterable[str]]
) -> tuple[str, ...]:
    """Put all steps in one order: what has to come first does, else as most sessions did it.

    Of the steps that may come, that comes next which the fewest others mostly
    came before; those that are equal stay as first met.  `after` maps a step to
    those before it; a circle in it is passed over.
    """
    met = {step: None for order in orders for step in order}
    steps = list(met)
    wins = before_counts(orders)
    sorter = TopologicalSorter(
        {step: [b for b in after.get(step, ()) if b in met] for step in steps}
    )
    try:
        sorter.prepare()
    except CycleError:
        return majority_order(orders, {})
    ready: list[str] = []
    left, placed = set(steps), []
    while left:
        ready += sorter.get_ready()
        best = min(
            ready,
            key=lambda step: (
                sum(wins[other, step] > wins[step, other] for other in left),
                steps.index(step),
            ),
        )
        ready.remove(best)
        left.discard(best)
        sorter.done(best)
        placed.append(best)
    return tuple(placed)


def before_counts(orders: Iterable[Sequence[str]]) -> Counter[tuple[str, str]]:
    """Count in how many orders the first of a pair comes before the second."""
    return Counter(pair for order in orders for pair in combinations(dict.fromkeys(order), 2))


def usual_count(numbers: Mapping[int, int], expected: int | None) -> int:
    """Give the number said most often; of equals the outline's, else the greatest."""
    most = max(numbers.values())
    modes = [number for number, times in numbers.items() if times == most]
    return expected if expected in modes and expected is not None else max(modes)


def numbers_of(facts: Iterable[Facts]) -> dict[HardwareKey, Counter[int]]:
    """Count for each part how many sessions said which number."""
    numbers: dict[HardwareKey, Counter[int]] = {}
    for one in facts:
        for key, number in one.counts.items():
            numbers.setdefault(key, Counter())[number] += 1
    return numbers


def _displaced(facts: Sequence[Facts], order: Sequence[str]) -> list[Displaced]:
    moved: dict[str, dict[str, str | None]] = {}
    for one in facts:
        kept = _longest_in_order([order.index(step) for step in one.order])
        for at, step in enumerate(one.order):
            if at not in kept:
                moved.setdefault(step, {})[one.session] = one.order[at - 1] if at else None
    return [
        Displaced(step=step, after=moved[step], of=sum(step in one.order for one in facts))
        for step in order
        if step in moved
    ]


def _longest_in_order(numbers: Sequence[int]) -> set[int]:
    """Give the indices of a longest increasing subsequence (Fredman 1975, patience sorting)."""
    tops: list[int] = []
    piles: list[int] = []
    before: list[int | None] = []
    for index, number in enumerate(numbers):
        pile = bisect_left(tops, number)
        before.append(piles[pile - 1] if pile else None)
        tops[pile : pile + 1] = [number]
        piles[pile : pile + 1] = [index]
    kept: set[int] = set()
    at = piles[-1] if piles else None
    while at is not None:
        kept.add(at)
        at = before[at]
    return kept


def _differing(facts: Sequence[Facts]) -> list[Differing]:
    expected = {key: number for one in facts for key, number in one.expected.items()}
    return [
        Differing(key=key, numbers=dict(numbers.most_common()), expected=expected.get(key))
        for key, numbers in numbers_of(facts).items()
        if len(numbers) > 1 or expected.get(key) not in (None, *numbers)
    ]


def _extra(facts: Sequence[Facts]) -> list[Extra]:
    listed = {key for one in facts for key in one.expected}
    return [
        Extra(key=key, seen=numbers.total(), of=sum(key[0] in one.order for one in facts))
        for key, numbers in numbers_of(facts).items()
        if key not in listed
    ]


def _times(step: str, facts: Sequence[Facts]) -> StepTimes:
    timed = [one.minutes[step] for one in facts if one.minutes.get(step)]
    return StepTimes(
        step=step,
        done=sum(step in one.order for one in facts),
        timed=len(timed),
        low=min(timed, default=0.0),
        middle=median(timed) if timed else 0.0,
        high=max(timed, default=0.0),
    )
