"""Labour time from past sessions: the quote."""

from benchvoice.quoting.estimate import estimate
from benchvoice.quoting.quote import (
    Price,
    Quote,
    Range,
    SessionTimes,
    StepQuote,
    quote_to_json,
)
from benchvoice.quoting.text import quote_text

__all__ = [
    "Price",
    "Quote",
    "Range",
    "SessionTimes",
    "StepQuote",
    "estimate",
    "quote_text",
    "quote_to_json",
]
