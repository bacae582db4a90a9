"""A sheet as plain text: ASCII, wrapped, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from benchvoice.sheets.containers import Kept
from benchvoice.sheets.hardware import HardwareRow, HardwareSheet
from benchvoice.sheets.head import SheetHead
from benchvoice.sheets.kinds import Sheet
from benchvoice.sheets.layout import hours, marked, plain, titled, wrapped
from benchvoice.sheets.measures import Measured
from benchvoice.sheets.parts_sheet import PartRow, PartsSheet
from benchvoice.sheets.reassembly import Fit, Reading, ReassemblySheet, ReassemblyStep
from benchvoice.sheets.render.words import (
    count_text,
    fit_details,
    measured_text,
    quantity_text,
    source_text,
    verdict_text,
)
from benchvoice.sheets.said import time_of
from benchvoice.sheets.teardown import Line, TeardownSheet, TeardownStep

_BOX = "[ ] "
_BLANK = "__________"


def text_of(sheet: Sheet, width: int = 80) -> str:
    """Give the sheet, at most `width` columns wide (40 or more)."""
    lines = list(_head(sheet.head, width))
    match sheet:
        case TeardownSheet():
            lines += _teardown(sheet, width)
        case PartsSheet():
            lines += _parts(sheet, width)
        case ReassemblySheet():
            lines += _reassembly(sheet, width)
        case HardwareSheet():
            lines += _hardware(sheet, width)
    return "\n".join(lines) + "\n"


def _head(head: SheetHead, width: int) -> Iterator[str]:
    yield from wrapped("", f"{head.title}: {head.purpose}", width)
    for name, value in (
        *(("Job", head.name), ("Unit", head.unit), ("Serial", head.serial)),
        *(("Worked", " to ".join(head.days)), ("Who", head.who), ("Outline", head.outline)),
    ):
        if value:
            yield from wrapped(f"{name + ':':<9}", value, width)
    if head.invented:
        yield from wrapped("", "INVENTED demo data: never use it on a real unit.", width)
    yield ""
    for text in (*head.defers, *head.cautions):
        yield from wrapped("", text, width)
    yield from marked("! ", head.warnings, width)


def _teardown(sheet: TeardownSheet, width: int) -> Iterator[str]:
    off = [f"{title}: {count_text(count)}" for title, count in sheet.off]
    yield from titled("Counts that do not add up", marked("  ! ", off, width))
    yield from titled("Open", marked("  ? ", sheet.open, width))
    for step in sheet.steps:
        yield from _teardown_step(step, width)
    yield from titled("Measured", [line for one in sheet.measures for line in _measure(one, width)])
    yield from titled("Where things lie", _containers(sheet.containers, width))
    unclear = [text for line in sheet.not_understood for text in _line(line, width)]
    yield from titled("Not understood", unclear)
    sittings = [
        f"{one.number}: {plain(one.opened)} to {plain(one.closed or '? (not closed)')}"
        for one in sheet.sittings
    ]
    yield from titled("Sittings", marked("  ", sittings, width))
    yield from ("", f"Worked in all: {hours(sheet.minutes)}")
    damage = [f"line {fault.line}: {fault.what}: {fault.text}" for fault in sheet.damage]
    yield from titled("Lines of the session file that are damaged", marked("  ! ", damage, width))


def _teardown_step(step: TeardownStep, width: int) -> Iterator[str]:
    done = "finished" if step.finished else "not said to be finished"
    yield ""
    yield from wrapped("", f"{step.title} ({hours(step.minutes)}, {done})", width)
    yield from marked("  CAUTION ", step.cautions, width)
    for line in step.lines:
        yield from _line(line, width)
    unsaid = [count_text(count) for count in step.counts if count.open or count.said is None]
    yield from marked("       ! ", unsaid, width)


def _line(line: Line, width: int) -> Iterator[str]:
    clip = f" [{line.clip}]" if line.clip else ""
    first = f"  {time_of(line.wall):>5}  "
    for text in line.texts:
        yield from wrapped(first, text, width)
        first = " " * len(first)
    recorded = (f'recorded as "{text}"{clip}' for text in line.recorded)
    yield from marked("         ", recorded, width)
    yield from marked("       ? ", (f"{text}{clip}" for text in line.unsure), width)
    yield from marked("       ! ", line.warnings, width)


def _measure(one: Measured, width: int) -> Iterator[str]:
    mark = "  ! " if one.counts_as_outside else "    "
    limit = f"; limit {one.limit} ({one.source})" if one.limit else ""
    yield from wrapped(mark, f"{measured_text(one)}: {verdict_text(one)}{limit}", width)


def _containers(containers: Iterable[Kept], width: int) -> list[str]:
    rows = [f"{kept.container}: {'; '.join(kept.what)}" for kept in containers]
    return marked("  ", rows, width)


def _parts(sheet: PartsSheet, width: int) -> Iterator[str]:
    for title, rows in (
        ("To order", sheet.order),
        ("To machine or send out", sheet.send_out),
        ("To be decided", sheet.decide),
        ("Thrown away: say whether a new one is needed", sheet.discarded),
    ):
        yield from titled(title, [line for row in rows for line in _part(row, width)])
    yield from titled("Nothing decided yet", marked("  ? ", sheet.undecided, width))
    if not sheet.rows:
        yield from ("", "Nothing was said to be replaced, ordered or sent out.")


def _part(row: PartRow, width: int) -> Iterator[str]:
    size = f", {', '.join(row.size)}" if row.size else ""
    yield from wrapped(f"  {_BOX}{quantity_text(row):>3}  ", f"{row.part}{size}", width)
    under = " " * 11
    yield from wrapped(under, f"{row.action}: {', '.join(row.why)}", width)
    yield from marked(under, map(source_text, row.sources), width)
    yield from marked(" " * 9 + "? ", row.check, width)


def _reassembly(sheet: ReassemblySheet, width: int) -> Iterator[str]:
    yield from titled("Settle before you start", marked("  ? ", sheet.before, width))
    for number, step in enumerate(sheet.steps, start=1):
        yield from _reassembly_step(number, step, width)
    if not sheet.steps:
        yield from ("", "Nothing was taken apart that could go back.")


def _reassembly_step(number: int, step: ReassemblyStep, width: int) -> Iterator[str]:
    yield ""
    yield from wrapped(f"{number}. ", step.title, width)
    undone = ", ".join(title for title in step.undoes if title != step.title)
    yield from marked("   undoes: ", [undone] if undone else [], width)
    yield from marked("   CAUTION ", step.cautions, width)
    yield from marked("   note: ", step.notes, width)
    many = len({fit.source for fit in step.fits}) > 1
    for source, fits in groupby(step.fits, key=lambda fit: fit.source):
        yield from marked("   -- of: ", [source] if many and source else [], width)
        for fit in fits:
            yield from _fit(fit, width)
    for reading in step.readings:
        yield from _reading(reading, width)


def _fit(fit: Fit, width: int) -> Iterator[str]:
    yield from wrapped(f"   {_BOX}", fit.what, width)
    yield from marked(" " * 7, (f"{name}: {text}" for name, text in fit_details(fit)), width)
    for place, part in enumerate(fit.stack, start=1):
        yield from wrapped(f"       {place:>2}. ", part, width)
    yield from marked("     ? ", fit.look, width)


def _reading(reading: Reading, width: int) -> Iterator[str]:
    what = " ".join(filter(None, [reading.part, reading.quantity]))
    blank = f" {_BLANK} {reading.unit}" if reading.unit else ""
    limit = f"  limit {reading.limit} ({reading.source})" if reading.limit else ""
    yield from wrapped(f"   {_BOX}", f"{what}{blank}{limit}", width)
    said = [f"already said: {reading.said}"] if reading.said else []
    yield from marked(" " * 7, said, width)


def _hardware(sheet: HardwareSheet, width: int) -> Iterator[str]:
    yield from titled("Does not add up", marked("  ! ", sheet.odd, width))
    for step in sheet.steps:
        yield from ("", *wrapped("", step.step, width))
        for row in step.rows:
            yield from _hardware_row(row, width)
    yield from titled("Where things lie", _containers(sheet.containers, width))


def _hardware_row(row: HardwareRow, width: int) -> Iterator[str]:
    size = f", {', '.join(row.size)}" if row.size else ""
    yield from wrapped("   ! " if row.odd else "     ", f"{row.name}{size}", width)
    numbers = (("outline", row.expected), ("off", row.off), ("found", row.found),
               ("back in", row.back))  # fmt: skip
    text = ", ".join(f"{name} {'-' if number is None else number}" for name, number in numbers)
    where = f" -> {', '.join(row.containers)}" if row.containers else ""
    yield from wrapped("         ", f"{text}{where}", width)
