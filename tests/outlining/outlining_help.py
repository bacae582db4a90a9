"""Shared by the tests of outlining: sessions made by saying things."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from benchvoice.follow import State, advance
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.language import Parser
from benchvoice.session import Header, Journal, ScriptedClock, Session, read_session


@cache
def pack_of(outline: str | None) -> Pack:
    return load_pack(load_outline(outline) if outline else None)


@cache
def parser_of(outline: str | None) -> Parser:
    return Parser(pack_of(outline))


def job(
    folder: Path, *said: str, outline: str | None = None, gap: float = 60.0, unit: str = "pump"
) -> Session:
    """Say one thing after another, `gap` seconds apart."""
    scripted = ScriptedClock(datetime(2026, 3, 2, 8, 0, tzinfo=UTC))
    state = State()
    with Journal.create(folder, Header(unit=unit, outline=outline), scripted.clock) as journal:
        for text in said:
            scripted.advance(gap)
            remark = parser_of(outline).parse(text)
            state, event = advance(state, remark, pack_of(outline), journal.elapsed())
            journal.append_event(event)
    return read_session(folder)
