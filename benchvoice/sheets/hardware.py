"""The hardware sheet: what was expected, came off, was found and went back in, place by place."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.follow.heeds import lengths_text
from benchvoice.follow.keeping import is_unmarked, unmarked
from benchvoice.follow.ledger_values import LedgerLine
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Frozen
from benchvoice.sheets.book import Book
from benchvoice.sheets.containers import Kept, containers_of
from benchvoice.sheets.head import SheetHead, head_of
from benchvoice.sheets.said import title_of
from benchvoice.sheets.wanted import hardware_size


class HardwareRow(Frozen, frozen=True, kw_only=True):
    """One part at a place; numbers are None where nothing was said.

    `expected` is the outline's, `off` came off, `found` was found of it when
    it was looked at, `back` went back in.  `odd` says in words what does not
    add up.
    """

    part: str
    size: tuple[str, ...] = ()
    expected: int | None = None
    off: int | None = None
    found: int | None = None
    back: int | None = None
    containers: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()


class HardwarePlace(Frozen, frozen=True, kw_only=True):
    """The parts of one place, or of one step where no place was named."""

    place: str
    steps: tuple[str, ...] = ()
    rows: tuple[HardwareRow, ...] = ()


class HardwareSheet(Frozen, frozen=True, kw_only=True):
    """Parts by place in the outline's order, and containers with what lies in them."""

    head: SheetHead
    places: tuple[HardwarePlace, ...] = ()
    containers: tuple[Kept, ...] = ()

    @property
    def odd(self) -> tuple[str, ...]:
        """All that does not add up, each with its place."""
        return tuple(
            f"{place.place}: {text}"
            for place in self.places
            for row in place.rows
            for text in row.odd
        )


def hardware_sheet(book: Book) -> HardwareSheet:
    """Give the hardware of the steps that the job has touched."""
    places: dict[str, list[LedgerLine]] = {}
    for line in book.ledger.lines:
        if line.step in book.started or line.came_off or line.went_back:
            name = line.place or title_of(line.step, book.titles)
            places.setdefault(name, []).append(line)
    return HardwareSheet(
        head=head_of("hardware", book.session, book.outline),
        places=tuple(
            HardwarePlace(
                place=name,
                steps=tuple(dict.fromkeys(title_of(line.step, book.titles) for line in lines)),
                rows=tuple(_row(line, book) for line in lines),
            )
            for name, lines in places.items()
        ),
        containers=containers_of(book),
    )


def _row(line: LedgerLine, book: Book) -> HardwareRow:
    return HardwareRow(
        part=line.part,
        size=size_of(line, book.outline),
        expected=line.expected,
        off=line.off,
        found=line.found,
        back=line.back,
        containers=line.containers,
        odd=tuple(_odd(line, book)),
    )


def size_of(line: LedgerLine, outline: Outline | None) -> tuple[str, ...]:
    """Give the size as it was said, else as the outline has it."""
    if line.sizes:
        return line.sizes
    step = outline.by_id.get(line.step) if outline else None
    for item in step.hardware if step else ():
        if (item.part, item.place) == (line.part, line.place):
            lengths = (lengths_text(item),) if item.lengths else ()
            return (*hardware_size(item), *lengths)
    return ()


def _odd(line: LedgerLine, book: Book) -> Iterator[str]:
    if line.came_off and line.expected is None and book.outline is not None:
        yield "the outline does not list it"
    if None not in (line.expected, line.off) and line.expected != line.off:
        yield f"{line.expected} by the outline, {line.off} came off"
    if line.expected is not None and line.off is None and line.came_off and line.expected > 1:
        yield "no number was said"
    missing = line.expected is not None and not line.came_off and line.step in book.done
    if missing and not _other_build(line, book):
        yield "not mentioned"
    if line.off is not None and line.found is not None and line.found > line.off:
        yield f"{line.off} came off, {line.found} were found"
    if line.differs:
        yield f"{line.came} came off, {line.back} went back in"
    for length in line.lengths:
        if length.said not in (None, length.expected):
            yield f"{length.expected} of {length.length} by the outline, {length.said} said"
    if is_unmarked(line):
        yield unmarked(line)
    yield from line.odd


def _other_build(line: LedgerLine, book: Book) -> bool:
    """Whether another build than the one of this part was said to be there."""
    return any(build.name == line.build and build.said for build in book.ledger.builds)
