"""What is warned of beside counts and limits: marks, lengths, order, builds, what went back in."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence

from benchvoice.follow.counts import OFF, ON, PUTTING
from benchvoice.follow.heeds import power_tools_of
from benchvoice.follow.ledger_homes import Lines
from benchvoice.follow.ledger_rows import holes_text
from benchvoice.follow.ledger_values import BuildLine, Ledger, LedgerLine, LengthLine
from benchvoice.follow.likeness import part_likeness
from benchvoice.follow.sizes import group_by_size, misplaced, size_warnings
from benchvoice.follow.stack_order import going_in_complaint, stack_complaint
from benchvoice.follow.wording import parts_text, size_texts
from benchvoice.grammar.outline import Outline, Step
from benchvoice.remark import OUT_OF, Finding


def kept_warnings(
    findings: Sequence[Finding], step: Step, book: Ledger, outline: Outline, power: Collection[str]
) -> Iterator[str]:
    """Yield what is wrong with what was just said in a step; `book` has it already.

    `power` are the names of the tools that are power tools.
    """
    lines = Lines(book.lines, outline)
    for finding in findings:
        yield from line_warnings(finding, step.id, lines, outline)
        if finding.stack:
            yield from _stack_warnings(finding, step, book, outline)
        if finding.tool in power:
            yield from _tool_warnings(finding.tool or "", step, outline)
    touched = {
        line.build for finding in findings for line in _of(finding, step, book) if line.build
    }
    yield from (both_said(build) for build in book.builds if build.name in touched and _both(build))
    if any(finding.container for finding in findings):
        yield from scattered(step.id, book)


def line_warnings(finding: Finding, step: str, lines: Lines, outline: Outline) -> Iterator[str]:
    """Yield what is wrong with the parts that a finding is of, in a step by its id."""
    own = lines.of(step, finding)
    some = len(own) > 1 and _sum_back(own) <= _sum_to_go_in(own)
    for line in own:
        yield from _of_line(finding, line, outline, some=some)


def recount_warnings(
    findings: Sequence[Finding], step: str | None, book: Ledger, outline: Outline
) -> Iterator[str]:
    """Yield what does not add up of what goes back in; `book` has the findings already."""
    lines = Lines(book.lines, outline)
    for finding in findings:
        if finding.action in ON and finding.count is not None:
            yield from going_in(lines.of(step or "", finding), outline)


def leaving_warnings(step: Step, book: Ledger, outline: Outline) -> Iterator[str]:
    """Yield what a step leaves open, its counts of what comes off and its limits apart."""
    if outline.kind_of[step.id] in PUTTING:
        yield from _leaving_put_together(step, book, outline)
        return
    lines = [line for line in book.of_step(step.id) if line.came_off]
    yield from (unmarked(line) for line in lines if is_unmarked(line))
    for line in lines:
        for length in line.lengths:
            if length.said not in (None, length.expected):
                yield _of_length(line, length, outline)
    for stack in book.stacks:
        if stack.step == step.id:
            yield from stack_complaint(stack, step, finished=True)
    for build in book.builds:
        if step.id in build.steps:
            if _both(build):
                yield both_said(build)
            elif not build.said:
                yield unsettled(build)
    yield from scattered(step.id, book)


def _leaving_put_together(step: Step, book: Ledger, outline: Outline) -> Iterator[str]:
    for source in dict.fromkeys([*step.puts_back, step.id]):
        new = source in book.stripped
        yield from going_in(book.of_step(source), outline, new=new)
    for stack in book.stacks:
        if stack.step == step.id:
            yield from going_in_complaint(stack, book, outline, finished=True)


def going_in(lines: Iterable[LedgerLine], outline: Outline, *, new: bool = False) -> Iterator[str]:
    """Yield what did not go back in as it came: "front cover: 12 bolts came out, 11 gone in".

    With `new` also what is always replaced and nobody spoke of.
    """
    for line in lines:
        if line.again:
            parts = parts_text(line.part, line.came)
            yield f"{where(line, outline)}: {parts} to be renewed once more"
            continue
        if not (line.is_out or line.differs or (new and line.wants_new)):
            continue
        if line.expected is not None and (line.off is None or line.off < line.expected):
            came = f"{parts_text(line.part, line.expected)} expected"
        else:
            came = f"{parts_text(line.part, line.off)} came out"
        gone = "none" if not line.went_back else line.back
        yield f"{where(line, outline)}: {came}, {gone} gone in"


def not_as_it_came(book: Ledger, outline: Outline) -> Iterator[str]:
    """Yield all that is not back in as it came, once anything went back in."""
    if any(line.went_back for line in book.lines):
        for line in book.lines:
            yield from going_in([line], outline, new=line.step in book.stripped)


def scattered(step: str, book: Ledger) -> Iterator[str]:
    """Yield the sub-assemblies of a step whose pieces lie in different places."""
    for group in book.together:
        if group.step != step:
            continue
        kept = {
            line.part: line.containers[-1]
            for line in book.of_step(step)
            if line.part in group.parts and line.containers
        }
        if len(set(kept.values())) > 1:
            lie = ", ".join(f"{part} in {container}" for part, container in kept.items())
            why = f" ({group.why})" if group.why else ""
            yield f"{group.name}: {lie}; they stay together{why}"


def is_unmarked(line: LedgerLine) -> bool:
    """Whether a part that goes on either way round came off and nothing tells how it sat."""
    return line.either_way and line.came_off and not (line.marks or line.orientation)


def unmarked(line: LedgerLine) -> str:
    """Say that nothing tells how a part sat."""
    mark = f": {line.mark_to_make}" if line.mark_to_make else ""
    return f"{line.part}: goes on either way round, and no mark or facing was said{mark}"


def unsettled(build: BuildLine) -> str:
    """Say that nothing tells which build it is."""
    return f"{build.name}: {' or '.join(build.options)}, not said which"


def both_said(build: BuildLine) -> str:
    """Say that more builds were said than can be there."""
    return f"{build.name}: {' and '.join(build.said)} said, one of them expected"


def where(line: LedgerLine, outline: Outline) -> str:
    """Name the place of a line, or its step when it has no place or another step has the same."""
    alike = [key for key in outline.hardware_at if key[1:] == line.key[1:]]
    return (line.place if len(alike) < _SEVERAL else None) or title_of(line, outline)


def title_of(line: LedgerLine, outline: Outline) -> str:
    """Name the step of a line."""
    step = outline.by_id.get(line.step)
    return step.title if step else line.step or "no step"


_SEVERAL = 2


def _of_length(line: LedgerLine, length: LengthLine, outline: Outline) -> str:
    return (
        f"{where(line, outline)}: {length.expected} of {length.length} expected "
        f"({length.where}), {length.said} said"
    )


def _both(build: BuildLine) -> bool:
    return len(build.said) > 1


def _of(finding: Finding, step: Step, book: Ledger) -> list[LedgerLine]:
    return [line for line in book.of_step(step.id) if part_likeness(finding.part, line.part) == 1.0]


def _sum_back(lines: Iterable[LedgerLine]) -> int:
    return sum(line.back or 0 for line in lines)


def _sum_to_go_in(lines: Iterable[LedgerLine]) -> int:
    return sum(line.goes_in or 0 for line in lines)


def _of_line(finding: Finding, line: LedgerLine, outline: Outline, *, some: bool) -> Iterator[str]:
    """Yield what is wrong with a line; of several that are alike only `some` were said so far."""
    off = finding.action in OFF
    if off and is_unmarked(line):
        yield unmarked(line)
    for length in line.lengths:
        if length.said is not None and length.said > length.expected and finding.size:
            yield _of_length(line, length, outline)
    if line.always_replace and finding.disposition == "reuse":
        yield f"{line.part}: always replaced, reuse said"
    if finding.action in ON:
        yield from _going_on(finding, line, outline, some=some)


def _going_on(finding: Finding, line: LedgerLine, outline: Outline, *, some: bool) -> Iterator[str]:
    more = some or _so_far(finding, line) or _some_length(finding, line)
    if finding.count is not None and line.came_off and not more:
        yield from going_in([line], outline)
    yield from _another_length(finding, line, outline)
    if (wrong := misplaced(finding, line.lengths, line.place)) is not None:
        yield f"{where(line, outline)} {line.part}, {wrong}"
    faced = line.orientation[-1] if line.orientation else None
    if finding.orientation and faced and finding.orientation != faced:
        yield f"{line.part}: came out {faced}, going in {finding.orientation}"


def _another_length(finding: Finding, line: LedgerLine, outline: Outline) -> Iterator[str]:
    """Yield that what goes in is of another size, or more of a length than it has holes.

    A bolt that is too long bottoms out, one that is too short strips its thread.
    """
    item = outline.hardware_at.get(line.key)
    if item is not None and finding.size:
        yield from size_warnings(finding, item)
    came = came_from(finding, line) if item is None else None
    if came is not None:
        yield f"{where(line, outline)} {line.part}, {came}"
    group = group_by_size(finding, line.lengths)
    if group is not None and finding.count is not None and finding.count > group.expected:
        yield (
            f"{where(line, outline)}: {group.expected} of {group.length} expected "
            f"({group.where}), {finding.count} going in"
        )


def came_from(finding: Finding, line: LedgerLine) -> str | None:
    """Say from which holes it came, when it goes into others: "short: came from top, ..."."""
    size, now = ", ".join(size_texts(finding.size)), holes_text(finding, line.part)
    known = [re.sub(r"^\d+ of ", "", text) for text in line.sizes]
    holes = [text.removeprefix(f"{size} ") for text in known if text.startswith(f"{size} ")]
    if not size or not now or not holes or holes[0] == now:
        return None
    return f"{size}: came from {holes[0]}, going in {now}"


def _so_far(finding: Finding, line: LedgerLine) -> bool:
    """Whether the speaker says himself that it is only some of them: "ten of twelve in"."""
    told = f"{OUT_OF}{line.came}" in finding.notes
    return told and line.came is not None and (line.back or 0) <= line.came


def _some_length(finding: Finding, line: LedgerLine) -> bool:
    """Whether it is all of one length, and the other lengths are still to come."""
    group = group_by_size(finding, line.lengths)
    whole = group is not None and finding.count == group.expected
    return whole and line.came is not None and (line.back or 0) < line.came


def _stack_warnings(finding: Finding, step: Step, book: Ledger, outline: Outline) -> Iterator[str]:
    for stack in book.stacks:
        if stack.step == step.id and stack.order and stack.order == finding.stack:
            yield from stack_complaint(stack, step)
            yield from going_in_complaint(stack, book, outline)


def _tool_warnings(tool: str, step: Step, outline: Outline) -> Iterator[str]:
    allowed = power_tools_of(step, outline)
    putting = outline.kind_of[step.id] in PUTTING
    if allowed == "never":
        yield f"{tool}: hand tools only here"
    elif allowed == "apart only" and putting:
        yield f"{tool}: power tools are for taking apart only"
