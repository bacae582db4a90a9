"""Shared by the tests of sheets: what was said, carried through all the stages before."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from benchvoice.follow import State, advance
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.language import Parser
from benchvoice.session import Header, Journal, ScriptedClock, Session, read_session


@cache
def pack() -> Pack:
    return load_pack(load_outline("reversing_gearbox"))


@cache
def parser() -> Parser:
    return Parser(pack())


def job(folder: Path, *said: str, header: Header | None = None, gap: float = 60.0) -> Session:
    """Say one thing after another, `gap` seconds apart."""
    scripted = ScriptedClock(datetime(2026, 3, 2, 8, 0, tzinfo=UTC))
    state = State()
    with Journal.create(folder, header or Header(job="J 1"), scripted.clock) as journal:
        for text in said:
            scripted.advance(gap)
            state, event = advance(state, parser().parse(text), pack(), journal.elapsed())
            journal.append_event(event, clip=f"clips/{event.seq:04d}.flac")
    return read_session(folder)
