"""The session folder: a journal on disk that loses nothing, and what is read from it."""

from benchvoice.session import correcting
from benchvoice.session.clocks import Clock, ScriptedClock, real_clock
from benchvoice.session.corrections import Corrections, amended
from benchvoice.session.find import find_sessions
from benchvoice.session.history import Change, history
from benchvoice.session.journal import Journal
from benchvoice.session.read import JOURNAL_NAME, read_session
from benchvoice.session.timing import Labour, Silence, labour, step_minutes
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

__all__ = [
    "JOURNAL_NAME",
    "Amendment",
    "Change",
    "Clock",
    "Correction",
    "Corrections",
    "Damage",
    "Entry",
    "Header",
    "Journal",
    "Labour",
    "ScriptedClock",
    "Session",
    "Silence",
    "Sitting",
    "amended",
    "correcting",
    "find_sessions",
    "history",
    "labour",
    "read_session",
    "real_clock",
    "redo",
    "step_minutes",
    "take_back",
    "undo",
]
