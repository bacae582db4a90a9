"""Where the job is on the outline: remarks to step events, counts that do not add up."""

from benchvoice.follow.advance import advance, restore
from benchvoice.follow.counts import Count, tally
from benchvoice.follow.events import EventKind, LogEntry, State, StepEvent, recounted, standing
from benchvoice.follow.guess import guess_step
from benchvoice.follow.guess_in import guess_in
from benchvoice.follow.heeds import cautions_before
from benchvoice.follow.job import Job
from benchvoice.follow.ledger import ledger
from benchvoice.follow.ledger_values import (
    BuildLine,
    Contained,
    Container,
    Ledger,
    LedgerLine,
    LengthLine,
    StackLine,
    TogetherLine,
)
from benchvoice.follow.naming import find_step
from benchvoice.follow.open_questions import OpenQuestion, open_questions
from benchvoice.follow.readings import Checked, Reading
from benchvoice.follow.reassembly import BackItem, BackStep, reassembly
from benchvoice.follow.wording import finding_text

__all__ = [
    "BackItem",
    "BackStep",
    "BuildLine",
    "Checked",
    "Contained",
    "Container",
    "Count",
    "EventKind",
    "Job",
    "Ledger",
    "LedgerLine",
    "LengthLine",
    "LogEntry",
    "OpenQuestion",
    "Reading",
    "StackLine",
    "State",
    "StepEvent",
    "TogetherLine",
    "advance",
    "cautions_before",
    "find_step",
    "finding_text",
    "guess_in",
    "guess_step",
    "ledger",
    "open_questions",
    "reassembly",
    "recounted",
    "restore",
    "standing",
    "tally",
]
