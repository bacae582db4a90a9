"""What of a job is still open: undecided, unmeasured, unchecked, not settled, not back in."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import Literal

from benchvoice.follow.accounts import NO_OUTLINE, Accounts, accounts_of
from benchvoice.follow.counts import PUTTING, Count, Said, count_warnings, missing_warnings
from benchvoice.follow.keeping import (
    both_said,
    going_in,
    is_unmarked,
    unmarked,
    unsettled,
)
from benchvoice.follow.ledger_values import Ledger, LedgerLine
from benchvoice.follow.likeness import OF_ITSELF, part_likeness
from benchvoice.follow.part_kinds import kind_of
from benchvoice.follow.readings import Checked
from benchvoice.follow.stack_order import going_in_complaint, stack_complaint
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Frozen

OpenKind = Literal[
    "count", "mark", "build", "order", "undecided", "unmeasured", "out of limit", "unchecked",
    "check failed", "out",
]  # fmt: skip
"""A count that does not add up, a part not marked, a build not settled, an order that cannot be,
a part not decided on, a limit not measured, one that is not kept, a check not made, one that what
was said is not as it wants, a part not back in."""


class OpenQuestion(Frozen, frozen=True, kw_only=True):
    """One thing that is open: its kind, the step that it belongs to, and what it is in words."""

    kind: OpenKind
    step: str
    text: str


def open_questions(
    said: Said, pack: Pack, *, started: Collection[str], done: Collection[str] = ()
) -> tuple[OpenQuestion, ...]:
    """Give all that is open in the stages that the job has reached, in the outline's order.

    `said` is what stands, as (step id, findings); `started` and `done` are step
    ids.  Limits and checks count from the stage that was reached on; counts and
    builds from the step that was finished; what is out from the stage that puts
    together.  Without an outline only what was left undecided is open.
    """
    accounts = accounts_of(said, pack.outline or NO_OUTLINE, pack.unit)
    return open_in(accounts, pack, started=started, done=done)


def open_in(
    accounts: Accounts, pack: Pack, *, started: Collection[str], done: Collection[str]
) -> tuple[OpenQuestion, ...]:
    """Give all that is open by the accounts of a job; the rest as `open_questions`."""
    outline, book = accounts.outline, accounts.ledger
    reached = _reached(outline, started)
    sound = {condition.name for condition in pack.condition if condition.sound}
    fluids = {part.name for part in pack.part if part.kind == "fluid"}
    found = [
        *_counts(accounts.counts, outline, done),
        *_kept(book, outline, done),
        *undecided(book, sound, fluids, accounts.decided),
        *_parted(book),
        *_limits(accounts, reached),
        *_checks(accounts, reached),
        *_out(book, outline, reached),
    ]
    order = {step: number for number, step in enumerate(outline.by_id)}
    return tuple(sorted(found, key=lambda one: order.get(one.step, len(order))))


def undecided(
    book: Ledger,
    sound: Collection[str],
    fluids: Collection[str] = (),
    decided: Collection[_Part] = (),
) -> Iterator[OpenQuestion]:
    """Yield the parts nobody has decided on; `sound` are the names of the good conditions.

    Dirty oil is drained and gone: of `fluids` only what was put off is open.  `decided` are
    the (step, part) that something was decided on.
    """
    for line in book.lines:
        text = _undecided(line, sound, fluids)
        if text and not _goes_with_the_whole(line, decided):
            yield OpenQuestion(kind="undecided", step=line.step, text=text)


def _goes_with_the_whole(line: LedgerLine, decided: Collection[_Part]) -> bool:
    """Whether it is of a part that was decided on in its step: a chipped tooth, of its gear."""
    *whole, own = line.part.split()
    if line.disposition is not None or own not in OF_ITSELF:
        return False
    parts = [part for step, part in decided if step == line.step and part not in (None, line.part)]
    if whole:
        return any(part_likeness(" ".join(whole), part) > 0 for part in parts)
    return any(kind_of(own) == kind_of(part or "") != "other" for part in parts)


_Part = tuple[str | None, str | None]
"""A step id and what of it was decided on."""


def _parted(book: Ledger) -> Iterator[OpenQuestion]:
    """Yield the sub-assemblies of which some pieces are renewed and of others nothing is said."""
    for group in book.together:
        lines = [
            line
            for line in book.of_step(group.step)
            if line.part in group.parts and not line.always_replace
        ]
        new = [line.part for line in lines if line.is_new]
        old = [line.part for line in lines if line.disposition is None]
        if new and old:
            why = f" ({group.why})" if group.why else ""
            text = (
                f"{group.name}: {' and '.join(new)} to replace, {' and '.join(old)} not said{why}"
            )
            yield OpenQuestion(kind="undecided", step=group.step, text=text)


def _undecided(line: LedgerLine, sound: Collection[str], fluids: Collection[str]) -> str | None:
    if line.not_which:
        return f"{line.text}: {line.disposition} was said, not of which of them"
    if line.disposition not in (None, "decide"):
        return None
    wrong = [said for said in line.conditions if said not in sound and not _negated(said)]
    about = f"{line.some_found} of {line.text}: " if line.some_found else f"{line.text}: "
    if line.disposition == "decide":
        return about + ", ".join([*wrong, "to be decided"])
    if line.always_replace:
        return None
    if wrong and line.part not in fluids:
        return about + f"{', '.join(wrong)}, not said what shall happen to it"
    if line.inspect is not None and line.came_off and not line.conditions:
        return about + f"not looked at ({line.inspect})"
    return None


def _negated(condition: str) -> bool:
    return condition.startswith("not ")


def _reached(outline: Outline, started: Collection[str]) -> frozenset[str]:
    """The steps of the stages up to the last one that was begun."""
    steps: list[str] = []
    reached: tuple[str, ...] = ()
    for stage in outline.stage:
        steps += [step.id for step in stage.step]
        if any(step.id in started for step in stage.step):
            reached = tuple(steps)
    return frozenset(reached)


def _counts(
    counts: Iterable[Count], outline: Outline, done: Collection[str]
) -> Iterator[OpenQuestion]:
    for count in counts:
        finished = [count] if count.step in done else []
        for text in (*count_warnings([count], outline), *missing_warnings(finished, outline)):
            yield OpenQuestion(kind="count", step=count.step, text=text)


def _kept(book: Ledger, outline: Outline, done: Collection[str]) -> Iterator[OpenQuestion]:
    for line in book.lines:
        if is_unmarked(line):
            yield OpenQuestion(kind="mark", step=line.step, text=unmarked(line))
    for build in book.builds:
        step = build.steps[0]
        if len(build.said) > 1:
            yield OpenQuestion(kind="build", step=step, text=both_said(build))
        elif not build.said and set(build.steps) & set(done):
            yield OpenQuestion(kind="build", step=step, text=unsettled(build))
    for stack in book.stacks:
        finished = stack.step in done
        for text in stack_complaint(stack, outline.by_id.get(stack.step), finished=finished):
            yield OpenQuestion(kind="order", step=stack.step, text=text)
        for text in going_in_complaint(stack, book, outline, finished=finished):
            yield OpenQuestion(kind="order", step=stack.step, text=text)
        if stack.name is not None and not stack.order and stack.step in done:
            text = f"{stack.name}: the order was not said"
            yield OpenQuestion(kind="order", step=stack.step, text=text)


def _limits(accounts: Accounts, reached: Collection[str]) -> Iterator[OpenQuestion]:
    for reading in accounts.due:
        if reading.measured is None:
            if reading.step in reached:
                yield OpenQuestion(kind="unmeasured", step=reading.step, text=reading.text)
        elif reading.complaint is not None:
            putting = accounts.outline.kind_of[reading.step] in PUTTING
            if putting or not any(reading.is_of(*one) for one in accounts.decided):
                yield OpenQuestion(kind="out of limit", step=reading.step, text=reading.text)


def _checks(accounts: Accounts, reached: Collection[str]) -> Iterator[OpenQuestion]:
    for one in accounts.checks:
        if one.said is None and one.step in reached:
            yield OpenQuestion(kind="unchecked", step=one.step, text=f"{one.text}: not said")
        elif one.complaint is not None:
            putting = accounts.outline.kind_of[one.step] in PUTTING
            if putting or not _is_dealt_with(one, accounts.decided):
                yield OpenQuestion(kind="check failed", step=one.step, text=one.complaint)


def _is_dealt_with(one: Checked, decided: Collection[tuple[str | None, str | None]]) -> bool:
    """Whether it was said what shall happen to what was checked, or to what was found there."""
    parts = {one.check.part, one.said.part if one.said else None} - {None}
    return any(part_likeness(named, part or "") > 0 for _, named in decided for part in parts)


def _out(book: Ledger, outline: Outline, reached: Collection[str]) -> Iterator[OpenQuestion]:
    begun = any(outline.kind_of[step] in PUTTING for step in reached)
    for line in book.out if begun or any(one.went_back for one in book.lines) else ():
        for text in going_in([line], outline):
            yield OpenQuestion(kind="out", step=line.step, text=text)
