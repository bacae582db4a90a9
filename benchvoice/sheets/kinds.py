"""The kinds of sheets, and how each is made from a session."""

from __future__ import annotations

from benchvoice.grammar.pack import Pack
from benchvoice.session.values import Session
from benchvoice.sheets.book import book_of
from benchvoice.sheets.hardware import HardwareSheet, hardware_sheet
from benchvoice.sheets.head import SheetKind
from benchvoice.sheets.parts_sheet import PartsSheet, parts_sheet
from benchvoice.sheets.reassembly import ReassemblySheet, reassembly_sheet
from benchvoice.sheets.teardown import TeardownSheet, teardown_sheet

Sheet = TeardownSheet | PartsSheet | ReassemblySheet | HardwareSheet


def sheet_of(kind: SheetKind, session: Session, pack: Pack) -> Sheet:
    """Make a sheet of a session; `pack` has the outline, if there is one, and the units."""
    book = book_of(session, pack)
    if kind == "parts":
        return parts_sheet(book)
    if kind == "reassembly":
        return reassembly_sheet(book)
    if kind == "hardware":
        return hardware_sheet(book)
    return teardown_sheet(book)
