"""Mistakes in an outline that its shape allows: names that are not there, sums that differ."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

from benchvoice.grammar.outline import Hardware, Named, Outline, StageKind, Step
from benchvoice.grammar.spoken import size_text_ways, thread_ways

_LENGTH = re.compile(r"(\d+( \d+/\d+)?|\d+/\d+|\d*\.\d+|\d+\.\d*) (in|mm)")
_MOST = 10_000
_PUTTING = frozenset[StageKind]({"assemble", "test"})


class Mistake(NamedTuple):
    """What is wrong, how to mend it, and where: a path such as `$.stage[0].step[3].minutes`."""

    where: str
    what: str
    mend: str


class Spoken(NamedTuple):
    """Words of an outline that are said at the bench, and where they stand."""

    where: str
    words: str


def outline_mistakes(outline: Outline) -> Iterator[Mistake]:
    """Yield what is wrong in an outline, in the order of its steps."""
    seen: set[str] = set()
    for at, step in _steps(outline):
        checks = (
            _of_step(step, seen, outline.by_id),
            _of_limits(step),
            _of_hardware(step, outline),
            _of_groups(step),
            _of_putting_back(step, outline),
        )
        for check in checks:
            for mistake in check:
                yield mistake._replace(where=f"{at}.{mistake.where}")
        seen.add(step.id)


def spoken_words(outline: Outline) -> Iterator[Spoken]:
    """Yield what the steps of an outline want to have said as it is written."""
    for at, step in _steps(outline):
        for say in step.say:
            yield Spoken(f"{at}.say", say)
        for index, item in enumerate(step.hardware):
            here = f"{at}.hardware[{index}]"
            said = [group.where for group in item.lengths]
            said += filter(None, [item.mark, item.build, item.option])
            yield from (Spoken(here, words) for words in said)
        kept: tuple[tuple[str, tuple[Named, ...]], ...]
        kept = (("together", step.together), ("stack", step.stack))
        for key, groups in kept:
            for index, named in enumerate(groups):
                yield Spoken(f"{at}.{key}[{index}].name", named.name)
        for index, check in enumerate(step.check):
            yield Spoken(f"{at}.check[{index}].part", check.part)


def _steps(outline: Outline) -> Iterator[tuple[str, Step]]:
    for number, stage in enumerate(outline.stage):
        for index, step in enumerate(stage.step):
            yield f"$.stage[{number}].step[{index}]", step


def _of_step(step: Step, seen: set[str], steps: dict[str, Step]) -> Iterator[Mistake]:
    if step.id in seen:
        yield Mistake("id", f'step id "{step.id}" stands twice', "give each step its own id")
    if step.minutes is not None and not 0 < step.minutes < math.inf:
        yield Mistake("minutes", f"minutes = {step.minutes:g} is no time", "give minutes above 0")
    for key, names in (("after", step.after), ("puts_back", step.puts_back)):
        for name in names:
            if name not in steps:
                yield Mistake(key, f'there is no step "{name}"', "name a step id of this outline")
    if step.id in step.after:
        yield Mistake("after", f'step "{step.id}" cannot come after itself', "remove it")


def _of_limits(step: Step) -> Iterator[Mistake]:
    for index, limit in enumerate(step.limit):
        if limit.low is not None and limit.high is not None and limit.low > limit.high:
            what = f"limit of {limit.quantity}: low {limit.low:g} is above high {limit.high:g}"
            yield Mistake(f"limit[{index}]", what, "swap them")


def _of_hardware(step: Step, outline: Outline) -> Iterator[Mistake]:
    for index, item in enumerate(step.hardware):
        at = f"hardware[{index}]"
        if not 1 <= item.count <= _MOST:
            yield Mistake(at, f"{item.part}: count {item.count}", f"give a count of 1 to {_MOST}")
        if item.uncounted and item.count != 1:
            what = f"{item.part}: count {item.count}, and not counted"
            yield Mistake(at, what, "give one of count and uncounted")
        yield from (Mistake(at, what, mend) for what, mend in _unsaid(item))
        if item.always_replace and item.inspect is not None:
            what = f"{item.part}: always replaced, yet to be inspected"
            yield Mistake(at, what, "give one of always_replace and inspect")
        if item.option is not None and item.build is None:
            what = f'{item.part}: option "{item.option}" of no build'
            yield Mistake(at, what, "add build, the name of the place where builds differ")
        if item.build is not None and len(outline.builds[item.build]) < 2:
            what = f'build "{item.build}" has one option only'
            yield Mistake(at, what, "give the part of the other build the same build name")
        yield from (Mistake(at, what, mend) for what, mend in _of_lengths(item))


def _unsaid(item: Hardware) -> Iterator[tuple[str, str]]:
    """Yield the sizes that are not written as a size, so that nobody could say them."""
    for text in filter(None, [item.length, item.head, *(group.length for group in item.lengths)]):
        if not _can(size_text_ways, text):
            yield f'{item.part}: "{text}" is no length', 'write it as "1 1/4 in" or "30 mm"'
    if item.thread is not None and not _can(thread_ways, item.thread):
        yield f'{item.part}: "{item.thread}" is no thread', 'write it as "3/8-16" or "M8x1.25"'


def _can(say: Callable[[str], object], text: str) -> bool:
    try:
        return bool(say(text))
    except (ValueError, ArithmeticError, IndexError, KeyError):
        return False


def _of_lengths(item: Hardware) -> Iterator[tuple[str, str]]:
    if not item.lengths:
        return
    if item.length is not None:
        yield f"{item.part}: both length and lengths", "give one of them"
    total = sum(group.count for group in item.lengths)
    if total != item.count:
        yield (
            f"{item.part}: lengths add up to {total}, count is {item.count}",
            "correct one of them",
        )
    for group in item.lengths:
        if group.count < 1:
            yield f"{item.part}: count {group.count} of a length", "give a count above 0"
        if not _LENGTH.fullmatch(group.length):
            yield f'length "{group.length}" cannot be read', 'write "1 1/4 in" or "30 mm"'


def _of_groups(step: Step) -> Iterator[Mistake]:
    """Sub-assemblies and stacks are of parts that the step has."""
    parts = {item.part for item in step.hardware}
    mend = "name a part of this step's hardware"
    for index, group in enumerate(step.together):
        at = f"together[{index}]"
        if len(group.part) < 2:
            what = f'"{group.name}" keeps {len(group.part)} part together'
            yield Mistake(at, what, "name two parts or more")
        for name in group.part:
            if name not in parts:
                yield Mistake(at, f'"{group.name}": this step has no "{name}"', mend)
    for index, stack in enumerate(step.stack):
        for name in (stack.first, stack.last):
            if name not in parts:
                what = f'"{stack.name}": this step has no "{name}"'
                yield Mistake(f"stack[{index}]", what, mend)


def _of_putting_back(step: Step, outline: Outline) -> Iterator[Mistake]:
    if not step.puts_back:
        return
    if outline.kind_of[step.id] not in _PUTTING:
        what = f'step "{step.id}" is of a stage that puts nothing back'
        yield Mistake("puts_back", what, "move it to a step that assembles or tests")
    for name in step.puts_back:
        if outline.kind_of.get(name, "strip") != "strip":
            what = f'"{name}" is no step that strips, nothing of it goes back'
            yield Mistake("puts_back", what, "name steps of the strip stage")
