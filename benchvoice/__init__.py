"""benchvoice: an offline voice-and-keyboard bench assistant for rebuilders.

What a script needs is here; each stage's own package has the rest.  A name is
imported when it is first used, for a command must not wait for stages that it
does not need.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
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
else:
    _WHERE = {
        "bench.desk": ("Desk", "Recorded"),
        "bench.ears": ("Ears", "build_engine", "hear_file", "open_ears"),
        "bench.past": ("past_times",),
        "bench.replay": ("replay",),
        "errors": ("BadInput", "BenchvoiceError"),
        "grammar": ("Outline", "Pack", "load_outline", "load_pack"),
        "language": ("Parser",),
        "quoting": ("estimate", "quote_to_json"),
        "remark": ("Finding", "Remark", "remark_from_json", "remark_to_json"),
        "session": ("Header", "Session", "find_sessions", "read_session"),
    }

    def __getattr__(name: str) -> Any:
        for module, names in _WHERE.items():
            if name in names:
                return getattr(import_module(f"benchvoice.{module}"), name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


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
