"""The hardware sheet: what was expected, came off, was found and went back in, step by step."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.follow.keeping import is_unmarked, unmarked
from benchvoice.follow.ledger_values import LedgerLine
from benchvoice.follow.part_kinds import comes_off, kind_of
from benchvoice.follow.reassembly import found_text
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Frozen
from benchvoice.sheets.book import Book
from benchvoice.sheets.containers import Kept, containers_of
from benchvoice.sheets.head import SheetHead, head_of
from benchvoice.sheets.said import title_of
from benchvoice.sheets.wanted import hardware_size

UNSAID_OFF = "not said to be off"
"""What is told of a part that was spoken of."""


class HardwareRow(Frozen, frozen=True, kw_only=True):
    """One part at a place; numbers are None where nothing was said.

    `expected` is the outline's, `off` came off, `found` was found of it when
    it was looked at, `back` went back in.  `odd` says in words what does not
    add up.
    """

    part: str
    place: str | None = None
    size: tuple[str, ...] = ()
    expected: int | None = None
    off: int | None = None
    found: int | None = None
    back: int | None = None
    containers: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The part and its place: "bolt, end cover"."""
        return f"{self.part}, {self.place}" if self.place else self.part


class HardwareStep(Frozen, frozen=True, kw_only=True):
    """The parts that belong to one step of the teardown."""

    step: str
    rows: tuple[HardwareRow, ...] = ()


class HardwareSheet(Frozen, frozen=True, kw_only=True):
    """Parts by step in the outline's order, and containers with what lies in them."""

    head: SheetHead
    steps: tuple[HardwareStep, ...] = ()
    containers: tuple[Kept, ...] = ()

    @property
    def odd(self) -> tuple[str, ...]:
        """All that does not add up, each with its step and part."""
        return tuple(
            f"{step.step}: {row.name}: {text}"
            for step in self.steps
            for row in step.rows
            for text in row.odd
        )


def hardware_sheet(book: Book) -> HardwareSheet:
    """Give the hardware of the steps that the job has touched."""
    steps: dict[str, list[LedgerLine]] = {}
    for line in book.ledger.lines:
        listed = line.expected is not None and line.step in book.started
        if listed or line.came_off or is_put_back(line) or line.containers:
            steps.setdefault(line.step, []).append(line)
    return HardwareSheet(
        head=head_of("hardware", book.session, book.outline),
        steps=tuple(
            HardwareStep(
                step=title_of(step, book.titles), rows=tuple(_row(line, book) for line in lines)
            )
            for step, lines in steps.items()
        ),
        containers=containers_of(book),
    )


def _row(line: LedgerLine, book: Book) -> HardwareRow:
    return HardwareRow(
        part=line.part,
        place=line.place,
        size=(*size_of(line, book.outline), *_lengths(line)),
        expected=line.expected,
        off=line.off,
        found=line.found,
        back=line.back,
        containers=line.containers,
        odd=tuple(_odd(line, book)),
    )


def size_of(line: LedgerLine, outline: Outline | None) -> tuple[str, ...]:
    """Give the size as the outline has it, else as it was said.

    Where both are known and differ, the line's `odd` tells what was said.
    """
    step = outline.by_id.get(line.step) if outline else None
    for item in step.hardware if step else ():
        if (item.part, item.place) == (line.part, line.place) and hardware_size(item):
            return hardware_size(item)
    whole = f"{line.off} of "
    return tuple(dict.fromkeys(size.removeprefix(whole) for size in line.sizes))


def _lengths(line: LedgerLine) -> Iterator[str]:
    for length in line.lengths:
        yield f"{length.expected} of {length.length} ({length.where}{found_text(length)})"


def _odd(line: LedgerLine, book: Book) -> Iterator[str]:
    listed = line.expected is not None or book.outline is None or not comes_off(line.part)
    if line.came_off and not listed:
        yield "the outline does not list it"
    if None not in (line.expected, line.off) and line.expected != line.off:
        yield f"{line.expected} by the outline, {line.off} came off"
    if line.expected is not None and line.off is None and line.came_off and line.expected > 1:
        yield "no number was said"
    missing = line.expected is not None and not line.came_off and line.step in book.done
    if missing and not other_build(line, book):
        yield UNSAID_OFF if is_spoken_of(line) else "not mentioned"
    if line.off is not None and line.found is not None and line.found > line.off:
        yield f"{line.off} came off, {line.found} were found"
    if line.differs:
        out = f"{line.came} came off" if line.goes_in == line.came else f"{line.goes_in} to go in"
        yield f"{out}, {line.back} went back in"
    for length in line.lengths:
        if length.said not in (None, length.expected):
            yield f"{length.expected} of {length.length} by the outline, {length.said} said"
    if is_unmarked(line):
        yield unmarked(line).removeprefix(f"{line.part}: ")
    yield from line.odd


def is_spoken_of(line: LedgerLine) -> bool:
    """Whether more or less was said of a part, if not that it came off."""
    said = (*line.marks, *line.conditions, *line.dispositions, *line.orientation)
    return bool(said or line.containers)


def is_put_back(line: LedgerLine) -> bool:
    """Whether it went back in; oil that was filled in and not told of as drained is new."""
    filled = kind_of(line.part) == "fluid" and line.expected is None and not line.came_off
    return line.went_back and not filled


def other_build(line: LedgerLine, book: Book) -> bool:
    """Whether another build than the one of this part was said to be there."""
    return any(build.name == line.build and build.said for build in book.ledger.builds)
