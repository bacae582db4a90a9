"""The kinds of sheets, and how each is made from a session."""

from __future__ import annotations

from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.session.values import Session
from benchvoice.sheets.hardware import HardwareSheet
from benchvoice.sheets.head import SheetKind
from benchvoice.sheets.parts_sheet import PartsSheet, parts_sheet
from benchvoice.sheets.reassembly import ReassemblySheet
from benchvoice.sheets.teardown import TeardownSheet, teardown_sheet

Sheet = TeardownSheet | PartsSheet | ReassemblySheet | HardwareSheet


def sheet_of(kind: SheetKind, session: Session, outline: Outline | None, pack: Pack) -> Sheet:
    """Make a sheet of a session; `pack` has the units."""
    if kind == "parts":
        return parts_sheet(session, outline)
    return teardown_sheet(session, outline, {unit.name: unit for unit in pack.unit})
