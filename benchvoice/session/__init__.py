"""The session folder: a journal on disk that loses nothing, and what is read from it."""

from benchvoice.session.clocks import Clock, ScriptedClock, real_clock
from benchvoice.session.find import find_sessions
from benchvoice.session.journal import Journal
from benchvoice.session.read import JOURNAL_NAME, read_session
from benchvoice.session.timing import Doubt, Labour, Silence, labour, step_minutes
from benchvoice.session.values import Damage, Entry, Header, Session, Sitting
from benchvoice.session.visits import Visit

__all__ = [
    "JOURNAL_NAME",
    "Clock",
    "Damage",
    "Doubt",
    "Entry",
    "Header",
    "Journal",
    "Labour",
    "ScriptedClock",
    "Session",
    "Silence",
    "Sitting",
    "Visit",
    "find_sessions",
    "labour",
    "read_session",
    "real_clock",
    "step_minutes",
]
