"""The reassembly sheet: what came apart goes back, with what was said of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchvoice.follow.counts import PUTTING
from benchvoice.follow.keeping import is_unmarked, unmarked
from benchvoice.follow.ledger_values import LedgerLine, StackLine, TogetherLine
from benchvoice.follow.likeness import part_likeness, place_likeness
from benchvoice.follow.limits import UNSOURCED, bounds_text, measured_of
from benchvoice.follow.part_kinds import comes_off
from benchvoice.follow.readings import Reading as LimitReading
from benchvoice.follow.reassembly import BackStep, found_text
from benchvoice.follow.stack_order import as_it_came_off, stack_complaint
from benchvoice.follow.wording import finding_text, measure_text
from benchvoice.grammar.outline import Check, Limit
from benchvoice.remark import Frozen, doubt
from benchvoice.session.values import Entry
from benchvoice.sheets.book import Book
from benchvoice.sheets.hardware import (
    UNSAID_OFF,
    is_put_back,
    is_spoken_of,
    other_build,
    size_of,
)
from benchvoice.sheets.head import SheetHead, head_of
from benchvoice.sheets.said import title_of, with_title

_OUTSIDE = frozenset({"machine", "send out"})
_IS_IT_BACK = "it was to go out: is it back, and right?"


class Fit(Frozen, frozen=True, kw_only=True):
    """One thing that goes back in; a box to tick.

    `stack` are the pieces in the order that they go in, first to last.
    `renewed` tells what is fitted instead of the old one ("a NEW one, the old:
    torn"), `back` what was said to be in already, `look` what is to be looked
    at first.  `source` is the title of the teardown step that it comes from,
    `found` the condition that it was found in, `note` the outline's.  `entries` are the seqs of the
    remarks that say so, `clips` what was recorded of them.
    """

    what: str
    container: str | None = None
    orientation: str | None = None
    stack: tuple[str, ...] = ()
    mark: str | None = None
    lengths: tuple[str, ...] = ()
    together: str | None = None
    renewed: str | None = None
    back: str | None = None
    found: str | None = None
    note: str | None = None
    source: str | None = None
    look: tuple[str, ...] = ()
    entries: tuple[int, ...] = ()
    clips: tuple[str, ...] = ()


class Reading(Frozen, frozen=True, kw_only=True):
    """A value to be measured and written down; `limit` and `source` as the outline has them.

    `unit` is empty for a check without a reading ("turns freely").  `said` is
    what was measured already.
    """

    quantity: str
    unit: str = ""
    part: str | None = None
    limit: str | None = None
    source: str | None = None
    said: str | None = None


class ReassemblyStep(Frozen, frozen=True, kw_only=True):
    """One step of putting together, with what is to be heeded before it.

    `undoes` names the steps of the teardown that it undoes.
    """

    title: str
    undoes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    fits: tuple[Fit, ...] = ()
    readings: tuple[Reading, ...] = ()


class ReassemblySheet(Frozen, frozen=True, kw_only=True):
    """The steps in the order of putting together; `before` is to be settled before starting."""

    head: SheetHead
    before: tuple[str, ...] = ()
    steps: tuple[ReassemblyStep, ...] = ()


def reassembly_sheet(book: Book) -> ReassemblySheet:
    """Give the sheet for putting together: what was really taken apart, last off first.

    With an outline its steps that assemble and test come in its order; without
    one each step of the teardown is undone in reverse.
    """
    return ReassemblySheet(
        head=head_of("reassembly", book.session, book.outline),
        before=tuple(_before(book)),
        steps=tuple(_step(step, book) for step in book.back or _undone(book)),
    )


def _before(book: Book) -> Iterator[str]:
    """Yield what is open of the stages before putting together; what goes in is in the steps."""
    kinds = book.outline.kind_of if book.outline else {}
    for one in book.questions:
        if one.kind != "out" and kinds.get(one.step) not in PUTTING:
            yield with_title(one.step, one.text, book.titles)
    for line in book.ledger.lines:
        if line.disposition in _OUTSIDE and not line.went_back:
            yield with_title(line.step, f"{line.text}: {_IS_IT_BACK}", book.titles)


def _undone(book: Book) -> Iterator[BackStep]:
    """Yield a step for each one taken apart, where no outline has them."""
    for step in reversed(book.ledger.stripped):
        title = f"{title_of(step or None, book.titles)}: back together"
        yield BackStep(id=step, title=title, sources=(step,))


def _step(step: BackStep, book: Book) -> ReassemblyStep:
    return ReassemblyStep(
        title=step.title,
        undoes=tuple(title_of(source, book.titles) for source in step.sources),
        cautions=step.cautions,
        notes=(*step.notes, *(_together_text(one) for one in step.together)),
        fits=tuple(fit for source in step.sources for fit in _fits(source, book)),
        readings=(
            *(_reading(limit, step.id, book) for limit in step.limits),
            *(_check(check, step.id, book) for check in step.checks),
        ),
    )


def _together_text(one: TogetherLine) -> str:
    why = f": {one.why}" if one.why else ""
    return f"{one.name} stays together ({', '.join(one.parts)}){why}"


def _fits(source: str, book: Book) -> Iterator[Fit]:
    """Yield what goes back of one teardown step: stacks, then parts, last off first.

    What the outline lists and nobody said a word of is there too: it may well have come off; so is
    what was spoken of where there is no outline.
    """
    yield from (_stack_fit(stack, book) for stack in book.ledger.stacks if stack.step == source)
    for line in reversed(book.ledger.of_step(source)):
        listed = line.expected is not None and not other_build(line, book)
        known = line.came_off or is_put_back(line) or listed or line.is_new
        spoken = book.outline is None and comes_off(line.part)
        if known or spoken or line.disposition in _OUTSIDE:
            yield _fit(line, book)


def _fit(line: LedgerLine, book: Book) -> Fit:
    heard = [entry for entry in _about(line, book) if _tells_how(entry, line)]
    return Fit(
        what=", ".join([line.text, *size_of(line, book.outline)]),
        container=_container(line, book),
        orientation=line.orientation[-1] if line.orientation else None,
        mark="; ".join(line.marks) or None,
        lengths=tuple(
            f"{one.expected} of {one.length}: {one.where}{found_text(one)}" for one in line.lengths
        ),
        together=", ".join(line.groups) or None,
        renewed=_renewed(line),
        back=_back(line),
        found=", ".join(line.conditions) if line.conditions and not line.is_new else None,
        note=line.note,
        source=title_of(line.step or None, book.titles),
        look=tuple(dict.fromkeys(_look(line, heard, book))),
        entries=tuple(entry.seq for entry in heard),
        clips=tuple(entry.clip for entry in heard if entry.clip),
    )


def _container(line: LedgerLine, book: Book) -> str | None:
    """Say where it lies; how many lie there where that is not all of them."""
    kept = [
        one.label if item.count in (None, line.came) else f"{one.label} ({item.count} of them)"
        for one in book.ledger.containers
        for item in one.items
        if (item.step, item.part, item.place) == line.key
    ]
    return " and ".join(kept) or None


def _about(line: LedgerLine, book: Book) -> Iterator[Entry]:
    """Yield the entries of the line's step in which its part was named."""
    for entry in book.session.standing:
        here = entry.kind == "finding" and (entry.step or "") == line.step
        if here and any(
            part_likeness(finding.part, line.part) > 0
            and place_likeness(finding.place, line.place) > 0
            for finding in entry.findings
        ):
            yield entry


def _tells_how(entry: Entry, line: LedgerLine) -> bool:
    """Whether an entry is worth hearing before the part goes back in."""
    return bool(doubt(entry.remark)) or any(
        finding.orientation or finding.mark or finding.stack or finding.group
        for finding in entry.findings
        if part_likeness(finding.part, line.part) > 0
    )


def _renewed(line: LedgerLine) -> str | None:
    if not line.is_new or line.not_which:
        return None
    new = "a NEW one" if line.came in (None, 1) else "NEW ones"
    if line.some_found and not line.always_replace:
        return f"NEW for those replaced ({line.some_found} found {', '.join(line.conditions)})"
    if line.conditions:
        return f"{new} (the old: {', '.join(line.conditions)})"
    return f"{new} (always replaced)" if line.always_replace else new


def _back(line: LedgerLine) -> str | None:
    """Say what was said to be back in already."""
    if not line.went_back:
        return None
    way = f", {line.orientation_back[-1]}" if line.orientation_back else ""
    return f"said to be in{way}" if line.back is None else f"{line.back} said to be in{way}"


def _look(line: LedgerLine, heard: Iterable[Entry], book: Book) -> Iterator[str]:
    if not line.came_off:
        told = UNSAID_OFF if is_spoken_of(line) else "nothing was said of it"
        yield f"{told} when it was taken apart: was it there?"
    if line.build is not None and not other_build(line, book) and not line.came_off:
        yield f"builds differ here ({line.build}): which it is was not said"
    if None not in (line.expected, line.off) and line.expected != line.off:
        yield f"{line.off} came off, the outline has {line.expected}"
    if line.again:
        yield "to be renewed once more: the one that was put in was said to be bad"
    if line.went_back and line.differs:
        yield f"{line.back} gone in, {line.goes_in} to go in"
    faced, now = line.orientation[-1:], line.orientation_back[-1:]
    if faced and now and faced != now:
        yield f"came out {faced[0]}, gone in {now[0]}"
    if is_unmarked(line):
        yield unmarked(line).removeprefix(f"{line.part}: ")
    if line.disposition in _OUTSIDE:
        yield _IS_IT_BACK
    if line.not_which:
        yield f"{line.disposition} was said, not of which of several alike: of this?"
    if line.disposition == "decide":
        yield "to be decided: not settled"
    if line.always_replace and line.disposition == "reuse":
        yield "the outline always replaces it, the bench said to reuse it"
    sound = {name for name, one in book.pack.condition_by_name.items() if one.sound}
    wrong = [one for one in line.conditions if one not in sound and not one.startswith("not ")]
    if wrong and line.disposition is None and not line.is_new:
        yield f"found {', '.join(wrong)}, and nothing was decided"
    yield from line.odd
    yield from filter(None, (doubt(entry.remark) for entry in heard))


def _stack_fit(stack: StackLine, book: Book) -> Fit:
    heard = [
        entry
        for entry in book.session.standing
        if (entry.step or "") == stack.step
        and any(finding.stack and finding.stack == stack.order for finding in entry.findings)
    ]
    step = book.outline.by_id.get(stack.step) if book.outline else None
    look = list(stack_complaint(stack, step, finished=stack.step in book.done))
    if not stack.order:
        look.append(
            f"the order was not said; by the outline {stack.last} goes in first, {stack.first} last"
        )
    elif stack.first is None:
        look.append("turned round from how it was said: hear which end was said first")
    look += filter(None, (doubt(entry.remark) for entry in heard))
    return Fit(
        what=f"Order: {stack.name or stack.place or 'stack'}",
        stack=as_it_came_off(stack, step)[::-1],
        note=stack.note,
        source=title_of(stack.step or None, book.titles),
        look=tuple(look),
        entries=tuple(entry.seq for entry in heard),
        clips=tuple(entry.clip for entry in heard if entry.clip),
    )


def _reading(limit: Limit, step: str, book: Book) -> Reading:
    of_it = [one for one in book.readings if (one.step, one.limit) == (step, limit)]
    some = any(one.measured for one in of_it)
    said = [_said(one, of_which=len(of_it) > 1) for one in of_it if some]
    return Reading(
        quantity=limit.quantity,
        unit=limit.unit,
        part=limit.part,
        limit=bounds_text(limit),
        source=limit.source or UNSOURCED,
        said="; ".join(filter(None, said)) or None,
    )


def _said(one: LimitReading, *, of_which: bool) -> str | None:
    if one.measured is None or one.measured.measure is None:
        return f"{one.of}: not measured" if one.of and of_which else None
    about = f"{measured_of(one.measured)}: " if of_which and measured_of(one.measured) else ""
    wrong = ", OUT OF LIMIT" if one.complaint else ""
    return f"{about}{measure_text(one.measured.measure)}{wrong}"


def _check(check: Check, step: str, book: Book) -> Reading:
    one = next((one for one in book.checks if (one.step, one.check) == (step, check)), None)
    wrong = ", NOT AS IT SHOULD BE" if one and one.complaint else ""
    return Reading(
        quantity=check.what,
        part=check.part,
        source=check.source,
        said=f"{finding_text(one.said)}{wrong}" if one and one.said else None,
    )
