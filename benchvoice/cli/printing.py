"""What several commands print."""

from __future__ import annotations

import sys
from typing import Any

from benchvoice.bench.desk import Recorded
from benchvoice.bench.ears import Ears
from benchvoice.remark import remark_to_json


def event_json(recorded: Recorded) -> dict[str, Any]:
    """Give one event: its place in the session, and the remark in the published form."""
    event = recorded.event
    return {
        "seq": event.seq,
        "kind": event.kind,
        "step": event.step,
        "start": round(event.at, 3),
        "end": None if recorded.end is None else round(recorded.end, 3),
        "remark": remark_to_json(event.remark),
        "warnings": list(event.warnings),
        "cautions": list(event.cautions),
        "answer": event.answer,
        "clip": recorded.clip,
    }


def tell_missing(ears: Ears) -> None:
    """Name the words that the engine cannot hear."""
    missing = missing_text(ears)
    if missing:
        print(f"benchvoice: {missing}", file=sys.stderr)


def missing_text(ears: Ears) -> str:
    """Name the words that the engine cannot hear; empty when there are none."""
    missing = ears.engine.missing if ears.engine else ()
    return f"cannot be heard, type them: {', '.join(missing)}" if missing else ""
