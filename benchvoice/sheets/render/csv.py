"""A sheet as CSV for a spreadsheet.

Written as RFC 4180 has it (comma, CRLF, quotes doubled), every cell quoted.  A
cell that a spreadsheet would take for a formula gets an apostrophe in front,
after OWASP's advice on CSV injection.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence

from benchvoice.sheets.hardware import HardwareSheet
from benchvoice.sheets.head import SheetHead
from benchvoice.sheets.kinds import Sheet
from benchvoice.sheets.parts_sheet import PartsSheet
from benchvoice.sheets.reassembly import Fit, ReassemblySheet, ReassemblyStep
from benchvoice.sheets.teardown import TeardownSheet

Cell = str | int | float | None

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What a formula may start with, the full-width signs among them (OWASP, CSV Injection)."""

_HEAD = ("job", "unit", "serial", "invented")


def csv_of(sheet: Sheet) -> str:
    """Give the rows of a sheet, the first with the names of the columns.

    Each row begins with the job, unit and serial, and "invented" for demo data.
    """
    names, rows = _table(sheet)
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow([*_HEAD, *names])
    head = _head(sheet.head)
    for row in rows:
        writer.writerow([safe_cell(cell) for cell in (*head, *row)])
    return out.getvalue()


def safe_cell(cell: Cell) -> str | int | float:
    """Keep a spreadsheet from reading a cell as a formula; nothing is an empty cell."""
    if isinstance(cell, str):
        return f"'{cell}" if cell.lstrip(" ").startswith(_FORMULA) else cell
    return "" if cell is None else cell


def _head(head: SheetHead) -> tuple[Cell, ...]:
    return head.name, head.unit, head.serial, "invented" if head.invented else None


def _table(sheet: Sheet) -> tuple[Sequence[str], Iterable[Sequence[Cell]]]:
    match sheet:
        case TeardownSheet():
            return _TEARDOWN, _teardown(sheet)
        case PartsSheet():
            return _PARTS, _parts(sheet)
        case ReassemblySheet():
            return _REASSEMBLY, _reassembly(sheet)
        case HardwareSheet():
            return _HARDWARE, _hardware(sheet)


def _joined(texts: Iterable[str]) -> str:
    return "; ".join(texts)


_TEARDOWN = ("step", "entry", "when", "what", "said", "warnings", "doubtful", "clip", "recorded as")


def _teardown(sheet: TeardownSheet) -> Iterator[Sequence[Cell]]:
    groups = [(step.title, step.lines) for step in sheet.steps]
    for title, lines in (*groups, ("", sheet.not_understood)):
        for line in lines:
            yield (
                *(title, line.seq, line.wall, line.kind, _joined(line.texts)),
                *(_joined(line.warnings), _joined(line.unsure), line.clip, _joined(line.recorded)),
            )


_PARTS = (
    *("to do", "action", "quantity", "quantity is", "part", "size", "size is", "why"),
    *("decided by", "check first", "from", "clips"),
)


def _parts(sheet: PartsSheet) -> Iterator[Sequence[Cell]]:
    for row in sheet.rows:
        sources = [", ".join(filter(None, [one.place, one.step])) for one in row.sources]
        clips = [one.clip for one in row.sources if one.clip]
        yield (
            *(row.todo, row.action, row.quantity, row.quantity_by, row.part, ", ".join(row.size)),
            *(row.size_by, ", ".join(row.why), row.decided_by, _joined(row.check)),
            *(_joined(sources), _joined(clips)),
        )


_REASSEMBLY = (
    *("number", "step", "kind", "what", "container", "way round", "order going in", "mark"),
    *("lengths", "together", "renewed", "look first", "limit", "source", "reading", "of", "note"),
)


def _reassembly(sheet: ReassemblySheet) -> Iterator[Sequence[Cell]]:
    for number, step in enumerate(sheet.steps, start=1):
        for row in _reassembly_step(step):
            yield (number, step.title, *row, *[None] * (len(_REASSEMBLY) - 2 - len(row)))


def _reassembly_step(step: ReassemblyStep) -> Iterator[Sequence[Cell]]:
    yield from (("caution", text) for text in step.cautions)
    yield from (("note", text) for text in step.notes)
    yield from (_fit(fit) for fit in step.fits)
    for reading in step.readings:
        what = " ".join(filter(None, [reading.part, reading.quantity]))
        kind = "measure" if reading.unit else "check"
        yield (kind, what, *[None] * 8, reading.limit, reading.source, reading.said)


def _fit(fit: Fit) -> Sequence[Cell]:
    return (
        *("fit", fit.what, fit.container, fit.orientation, ", ".join(fit.stack), fit.mark),
        *(_joined(fit.lengths), fit.together, fit.renewed, _joined(fit.look)),
        *(None, None, fit.back, fit.source, fit.note),
    )


_HARDWARE = ("step", "part", "place", "size", "outline", "off", "found", "back in", "in", "odd")


def _hardware(sheet: HardwareSheet) -> Iterator[Sequence[Cell]]:
    for step in sheet.steps:
        for row in step.rows:
            yield (
                *(step.step, row.part, row.place, ", ".join(row.size)),
                *(row.expected, row.off, row.found, row.back),
                *(_joined(row.containers), _joined(row.odd)),
            )
