"""Labour time from past sessions: the quote."""

from benchvoice.quoting.against import (
    Against,
    SavedQuote,
    against,
    as_saved,
    load_quote,
    save_quote,
)
from benchvoice.quoting.backtest import Backtest, backtest
from benchvoice.quoting.estimate import estimate, quote_of
from benchvoice.quoting.explain import Explained, explain
from benchvoice.quoting.explain_text import explain_text
from benchvoice.quoting.forecast import Forecast, forecast
from benchvoice.quoting.quote import (
    Adder,
    Driver,
    Practice,
    Price,
    Promise,
    Quote,
    Range,
    SessionTimes,
    StepQuote,
    quote_to_json,
)
from benchvoice.quoting.text import quote_text
from benchvoice.quoting.tried_text import against_text, backtest_text

__all__ = [
    "Adder",
    "Against",
    "Backtest",
    "Driver",
    "Explained",
    "Forecast",
    "Practice",
    "Price",
    "Promise",
    "Quote",
    "Range",
    "SavedQuote",
    "SessionTimes",
    "StepQuote",
    "against",
    "against_text",
    "as_saved",
    "backtest",
    "backtest_text",
    "estimate",
    "explain",
    "explain_text",
    "forecast",
    "load_quote",
    "quote_of",
    "quote_text",
    "quote_to_json",
    "save_quote",
]
