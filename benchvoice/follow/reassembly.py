"""Putting together: the outline backwards from what was really taken apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from benchvoice.follow.counts import PUTTING
from benchvoice.follow.heeds import cautions_before, hazard_cautions
from benchvoice.follow.ledger_values import Ledger, LedgerLine, LengthLine, StackLine, TogetherLine
from benchvoice.follow.limits import limit_text
from benchvoice.follow.part_kinds import comes_off
from benchvoice.follow.sizes import misplaced_text
from benchvoice.follow.stack_order import as_it_came_off
from benchvoice.grammar.outline import Check, Limit, Outline, Step
from benchvoice.remark import Frozen


class BackItem(Frozen, frozen=True, kw_only=True):
    """A part that goes back in: its ledger line, and what to know of it, a text each.

    `notes` are in the order they matter: where it is from when another step has the like, what the
    outline has when not as many came off, new part, facing, mark, lengths and
    their holes, group, the outline's own note.
    """

    line: LedgerLine
    notes: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """In words: "12 bolts, front cover, from bag 2 (set)"."""
        kept = f", from {' and '.join(self.line.containers)}" if self.line.containers else ""
        notes = f" ({'; '.join(self.notes)})" if self.notes else ""
        return f"{self.line.text}{kept}{notes}"


class BackStep(Frozen, frozen=True, kw_only=True):
    """A step of putting together; `sources` are the strip steps whose parts go back in it.

    `id` is the outline's assembling step, or the strip step itself where the
    outline has none that puts it back.  `items` are last off, first on.
    `stacks` have the order that they came off in.
    """

    id: str
    title: str
    sources: tuple[str, ...] = ()
    items: tuple[BackItem, ...] = ()
    stacks: tuple[StackLine, ...] = ()
    together: tuple[TogetherLine, ...] = ()
    cautions: tuple[str, ...] = ()
    limits: tuple[Limit, ...] = ()
    checks: tuple[Check, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def left(self) -> tuple[BackItem, ...]:
        """What has still to go in."""
        lines = ((item, item.line) for item in self.items)
        return tuple(
            item for item, line in lines if line.is_out or not (line.came_off or line.went_back)
        )


def reassembly(book: Ledger, outline: Outline) -> tuple[BackStep, ...]:
    """Give the steps of putting together, in order, with what goes back in each.

    Those of the outline that assemble and test come in its order, but for the
    ones that put back only what was not taken off.  What was taken off and no
    step puts back follows, last off first; without an outline that is all of it.
    """
    if not outline.stage:
        called = [Step(id=step, title=step) for step in reversed(book.stripped) if step]
        return tuple(_back_step(step, [step.id], book, outline) for step in called)
    stripped = [step for step in book.stripped if step not in _putting(outline)]
    planned = [step for step in outline.steps() if step.id in _putting(outline)]
    steps = [
        _back_step(
            step, [one for one in reversed(stripped) if one in step.puts_back], book, outline
        )
        for step in planned
        if not step.puts_back or any(one in stripped for one in step.puts_back)
    ]
    put = {source for step in planned for source in step.puts_back}
    left = [outline.by_id[one] for one in reversed(stripped) if one in outline.by_id]
    steps += [_back_step(step, [step.id], book, outline) for step in left if step.id not in put]
    return tuple(_with_cautions(steps, outline))


def _with_cautions(steps: Sequence[BackStep], outline: Outline) -> Iterator[BackStep]:
    """Give each step what is to be heeded before it; what holds for all after it is said once."""
    begun: list[str] = []
    for one in steps:
        step = outline.by_id[one.id]
        if one.id in _putting(outline):
            yield replace(one, cautions=cautions_before(step, outline, begun))
        else:
            yield replace(one, cautions=hazard_cautions(step, outline))
        begun.append(one.id)


def back_text(step: BackStep) -> tuple[str, ...]:
    """Say what to know of a step of putting together, a line each, cautions apart."""
    lines = [f"Goes in: {item.text}{_already(item.line)}" for item in step.left]
    for stack in step.stacks:
        name = stack.name or "stack"
        if stack.order:
            lines.append(f"Order of the {name}, first in to last: {', '.join(stack.order[::-1])}")
        elif stack.first:
            lines.append(
                f"Order of the {name}: not said; {stack.last} first and {stack.first} last, "
                "by the outline"
            )
    lines += [
        f"Measure {limit.part or ''} {limit.quantity}, {limit_text(limit)}".replace("  ", " ")
        for limit in step.limits
    ]
    lines += [f"Check {check.part}: {check.what}" for check in step.checks]
    return (*lines, *step.notes)


def _already(line: LedgerLine) -> str:
    return f"; {line.back} in already" if line.back else ""


def _putting(outline: Outline) -> frozenset[str]:
    return frozenset(step for step, kind in outline.kind_of.items() if kind in PUTTING)


def _back_step(step: Step, sources: Sequence[str], book: Ledger, outline: Outline) -> BackStep:
    strips = step.id in sources
    return BackStep(
        id=step.id,
        title=step.title,
        sources=tuple(sources),
        items=tuple(_items(sources, book, outline)),
        stacks=tuple(
            replace(one, order=as_it_came_off(one, outline.by_id.get(source)))
            for source in sources
            for one in book.stacks
            if one.step == source
        ),
        together=tuple(one for source in sources for one in book.together if one.step == source),
        limits=() if strips else step.limit,
        checks=() if strips else step.check,
        notes=() if strips else step.note,
    )


def _items(sources: Sequence[str], book: Ledger, outline: Outline) -> Iterator[BackItem]:
    bare = not outline.stage  # nothing lists what comes off: what was found of a part tells it
    lines = [
        line
        for source in sources
        for line in reversed(book.of_step(source))
        if line.came_off or line.always_replace or line.is_new or (bare and comes_off(line.part))
    ]
    for line in lines:
        alike = {one.step for one in lines if (one.part, one.place) == line.key[1:]}
        of = [outline.by_id[line.step].title] if len(alike) > 1 else []
        yield BackItem(line=line, notes=(*of, *_notes(line)))


def _new_ones(line: LedgerLine) -> str:
    if line.some_found and not line.always_replace:
        return f"new for those replaced: {line.some_found} said to be bad"
    return "new ones"


def found_text(length: LengthLine) -> str:
    """Say where a length was found: as the outline has it, or elsewhere; nothing if not said."""
    if length.found is None:
        return ""
    return ", found so" if length.found == length.where else f", found {length.found}"


def _notes(line: LedgerLine) -> Iterator[str]:
    if None not in (line.off, line.expected) and line.off != line.expected:
        yield f"the outline has {line.expected}"
    if line.not_which:
        yield f"{line.disposition} was said, not of which of them"
    elif line.is_new:
        yield "a new one" if line.came in (None, 1) else _new_ones(line)
    elif line.disposition not in (None, "reuse"):
        yield {"machine": "back from the machine shop", "send out": "back from outside"}.get(
            line.disposition or "", "not decided"
        )
    yield from line.orientation[-1:]
    yield from line.marks
    for length in line.lengths:
        yield f"{length.expected} of {length.length} {length.where}{found_text(length)}"
    told = [misplaced_text(one, one.found) for one in line.lengths if one.found]
    yield from (text for text in line.odd if not text.endswith(tuple(told)))
    for group in line.groups:
        yield f"stays together: {group}"
    if line.note:
        yield line.note
