"""The reassembly sheet: what came apart goes back, with what was said of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchvoice.follow.counts import PUTTING
from benchvoice.follow.keeping import is_unmarked, stack_complaint, unmarked
from benchvoice.follow.ledger_values import LedgerLine, StackLine, TogetherLine
from benchvoice.follow.likeness import part_likeness, place_likeness
from benchvoice.follow.limits import bounds_text
from benchvoice.follow.readings import readings
from benchvoice.follow.reassembly import BackItem, BackStep
from benchvoice.follow.wording import measure_text
from benchvoice.grammar.outline import Check, Limit
from benchvoice.remark import Frozen, doubt
from benchvoice.session.values import Entry
from benchvoice.sheets.book import NO_OUTLINE, Book
from benchvoice.sheets.hardware import size_of
from benchvoice.sheets.head import SheetHead, head_of
from benchvoice.sheets.measures import UNSOURCED
from benchvoice.sheets.said import title_of


class Fit(Frozen, frozen=True, kw_only=True):
    """One thing that goes back in; a box to tick.

    `stack` are the pieces in the order that they go in, first to last.
    `renewed` tells what is fitted instead of the old one ("a NEW one, the old:
    torn"), `back` what was said to be in already, `look` what is to be looked
    at first.  `entries` are the seqs of the remarks that say so, `clips` what
    was recorded of them.
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
    """Yield what is open of the stages before putting together."""
    kinds = book.outline.kind_of if book.outline else {}
    for one in book.questions:
        if kinds.get(one.step) not in PUTTING:
            yield f"{title_of(one.step, book.titles)}: {one.text}"


def _undone(book: Book) -> Iterator[BackStep]:
    """Yield a step for each one taken apart, where no outline has them."""
    for step in reversed(book.ledger.stripped):
        lines = [line for line in reversed(book.ledger.of_step(step)) if line.came_off]
        yield BackStep(
            id=step,
            title=f"{title_of(step or None, book.titles)}: back together",
            sources=(step,),
            items=tuple(BackItem(line=line) for line in lines),
            stacks=tuple(stack for stack in book.ledger.stacks if stack.step == step),
        )


def _step(step: BackStep, book: Book) -> ReassemblyStep:
    return ReassemblyStep(
        title=step.title,
        undoes=tuple(title_of(source, book.titles) for source in step.sources),
        cautions=step.cautions,
        notes=(*step.notes, *(_together_text(one) for one in step.together)),
        fits=(
            *(_fit(item.line, book) for item in step.items),
            *(_stack_fit(stack, book) for stack in step.stacks),
        ),
        readings=(
            *(_reading(limit, step.id, book) for limit in step.limits),
            *(_check(check) for check in step.checks),
        ),
    )


def _together_text(one: TogetherLine) -> str:
    why = f": {one.why}" if one.why else ""
    return f"{one.name} stays together ({', '.join(one.parts)}){why}"


def _fit(line: LedgerLine, book: Book) -> Fit:
    heard = [entry for entry in _about(line, book) if _tells_how(entry, line)]
    return Fit(
        what=", ".join([line.text, *size_of(line, book.outline)]),
        container=" and ".join(line.containers) or None,
        orientation=line.orientation[-1] if line.orientation else None,
        mark="; ".join(line.marks) or None,
        lengths=tuple(f"{one.expected} of {one.length}: {one.where}" for one in line.lengths),
        together=", ".join(line.groups) or None,
        renewed=_renewed(line),
        back=_back(line),
        look=tuple(dict.fromkeys(_look(line, heard))),
        entries=tuple(entry.seq for entry in heard),
        clips=tuple(entry.clip for entry in heard if entry.clip),
    )


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
    if not line.is_new:
        return None
    new = "a NEW one" if line.came in (None, 1) else "NEW ones"
    if line.conditions:
        return f"{new} (the old: {', '.join(line.conditions)})"
    return f"{new} (always replaced)" if line.always_replace else new


def _back(line: LedgerLine) -> str | None:
    """Say what was said to be back in already."""
    if not line.went_back:
        return None
    return "said to be in" if line.back is None else f"{line.back} said to be in"


def _look(line: LedgerLine, heard: Iterable[Entry]) -> Iterator[str]:
    if None not in (line.expected, line.off) and line.expected != line.off:
        yield f"{line.off} came off, the outline has {line.expected}"
    if is_unmarked(line):
        yield unmarked(line)
    if line.disposition in ("machine", "send out"):
        yield "it was to go out: is it back, and right?"
    if line.disposition == "decide":
        yield "to be decided: not settled"
    if line.always_replace and line.disposition == "reuse":
        yield "the outline always replaces it, the bench said to reuse it"
    if not line.is_new and line.conditions:
        yield f"found {', '.join(line.conditions)}"
    yield from line.odd
    if line.note:
        yield line.note
    yield from filter(None, (doubt(entry.remark) for entry in heard))


def _stack_fit(stack: StackLine, book: Book) -> Fit:
    """The stack as it goes in: the reverse of how it came off."""
    look = list(stack_complaint(stack))
    if not stack.order:
        ends = (
            f": by the outline {stack.last} goes in first, {stack.first} last"
            if stack.first
            else ""
        )
        look.append(f"the order was not said{ends}")
    heard = [
        entry
        for entry in book.session.standing
        if (entry.step or "") == stack.step
        and any(finding.stack == stack.order and stack.order for finding in entry.findings)
    ]
    look += filter(None, (doubt(entry.remark) for entry in heard))
    return Fit(
        what=f"Order: {stack.name or stack.place or 'stack'}",
        stack=stack.order[::-1],
        look=(*([stack.note] if stack.note else []), *look),
        entries=tuple(entry.seq for entry in heard),
        clips=tuple(entry.clip for entry in heard if entry.clip),
    )


def _reading(limit: Limit, step: str, book: Book) -> Reading:
    units = {unit.name: unit for unit in book.pack.unit}
    outline = book.outline or NO_OUTLINE
    said = next(
        (
            one.measured.measure
            for one in readings(book.session.findings, outline, units)
            if one.step == step and one.limit == limit and one.measured
        ),
        None,
    )
    return Reading(
        quantity=limit.quantity,
        unit=limit.unit,
        part=limit.part,
        limit=bounds_text(limit),
        source=limit.source or UNSOURCED,
        said=measure_text(said) if said else None,
    )


def _check(check: Check) -> Reading:
    return Reading(quantity=check.what, part=check.part, source=check.source)
