"""benchvoice: an offline voice-and-keyboard bench assistant for rebuilders.

What a script needs is here; each stage's own package has the rest.
"""

from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears, build_engine, hear_file, open_ears
from benchvoice.bench.past import past_times
from benchvoice.bench.replay import replay
from benchvoice.errors import BadInput, BenchvoiceError
from benchvoice.grammar import Outline, Pack, load_outline, load_pack
from benchvoice.language import Parser
from benchvoice.quoting import estimate, quote_to_json
from benchvoice.remark import Finding, Remark, remark_from_json, remark_to_json
from benchvoice.session import Header, Session, find_sessions, read_session

__all__ = [
    "BadInput",
    "BenchvoiceError",
    "Desk",
    "Ears",
    "Finding",
    "Header",
    "Outline",
    "Pack",
    "Parser",
    "Recorded",
    "Remark",
    "Session",
    "build_engine",
    "estimate",
    "find_sessions",
    "hear_file",
    "load_outline",
    "load_pack",
    "open_ears",
    "past_times",
    "quote_to_json",
    "read_session",
    "remark_from_json",
    "remark_to_json",
    "replay",
]
