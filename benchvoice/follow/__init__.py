"""Where the job is on the outline: remarks to step events, counts that do not add up."""

from benchvoice.follow.advance import advance, restore
from benchvoice.follow.counts import Count, tally
from benchvoice.follow.events import EventKind, LogEntry, State, StepEvent, recounted
from benchvoice.follow.guess import guess_step
from benchvoice.follow.naming import find_step
from benchvoice.follow.wording import finding_text

__all__ = [
    "Count",
    "EventKind",
    "LogEntry",
    "State",
    "StepEvent",
    "advance",
    "find_step",
    "finding_text",
    "guess_step",
    "recounted",
    "restore",
    "tally",
]
