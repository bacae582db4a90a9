"""What people read of a session."""

from benchvoice.follow.wording import finding_text
from benchvoice.sheets.event_lines import event_lines
from benchvoice.sheets.history_sheet import history_text
from benchvoice.sheets.jobs import sessions_text
from benchvoice.sheets.layout import wrapped
from benchvoice.sheets.session_sheet import session_text

__all__ = [
    "event_lines",
    "finding_text",
    "history_text",
    "session_text",
    "sessions_text",
    "wrapped",
]
