"""The session folder: a journal on disk that loses nothing, and what is read from it."""

from benchvoice.session import correcting
from benchvoice.session.clocks import Clock, ScriptedClock, real_clock
from benchvoice.session.corrections import Corrections, amended
from benchvoice.session.find import find_sessions
from benchvoice.session.history import Change, history
from benchvoice.session.integrity import Fault, Inspection, inspect
from benchvoice.session.journal import Journal
from benchvoice.session.placing import placed
from benchvoice.session.read import CLIPS, JOURNAL_NAME, has_records, read_session
from benchvoice.session.repair import Mended, repair
from benchvoice.session.timing import Doubt, Labour, Silence, labour, step_minutes
from benchvoice.session.undo import redo, take_back, undo
from benchvoice.session.values import (
    Amendment,
    Correction,
    Damage,
    Entry,
    Header,
    Session,
    Sitting,
)
from benchvoice.session.visits import Visit

__all__ = [
    "CLIPS",
    "JOURNAL_NAME",
    "Amendment",
    "Change",
    "Clock",
    "Correction",
    "Corrections",
    "Damage",
    "Doubt",
    "Entry",
    "Fault",
    "Header",
    "Inspection",
    "Journal",
    "Labour",
    "Mended",
    "ScriptedClock",
    "Session",
    "Silence",
    "Sitting",
    "Visit",
    "amended",
    "correcting",
    "find_sessions",
    "has_records",
    "history",
    "inspect",
    "labour",
    "placed",
    "read_session",
    "real_clock",
    "redo",
    "repair",
    "step_minutes",
    "take_back",
    "undo",
]
