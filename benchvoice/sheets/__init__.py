"""What people read of a session."""

from benchvoice.follow.wording import finding_text
from benchvoice.sheets.clip_files import embedded, linked
from benchvoice.sheets.event_lines import event_lines
from benchvoice.sheets.history_sheet import history_text
from benchvoice.sheets.jobs import sessions_text
from benchvoice.sheets.kinds import Sheet, sheet_of
from benchvoice.sheets.layout import wrapped
from benchvoice.sheets.render import csv_of, html_of, json_of, text_of
from benchvoice.sheets.session_sheet import session_text

__all__ = [
    "Sheet",
    "csv_of",
    "embedded",
    "event_lines",
    "finding_text",
    "history_text",
    "html_of",
    "json_of",
    "linked",
    "session_text",
    "sessions_text",
    "sheet_of",
    "text_of",
    "wrapped",
]
