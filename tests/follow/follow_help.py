"""Shared by the tests of following."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any

from benchvoice.follow import State, StepEvent, advance
from benchvoice.follow.events import standing
from benchvoice.follow.ledger import ledger
from benchvoice.follow.ledger_values import Ledger, LedgerLine
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.language import Parser

BARE = str(Path(__file__).with_name("bare_pump.toml"))
"""An outline that only takes apart."""
SCRIPT = Path(__file__).parents[2] / "demo_sessions" / "script.toml"


@cache
def pack_of(outline: str = "reversing_gearbox") -> Pack:
    return load_pack(load_outline(outline))


@cache
def parser_of(outline: str = "reversing_gearbox") -> Parser:
    return Parser(pack_of(outline))


def script() -> list[dict[str, Any]]:
    remarks: list[dict[str, Any]] = tomllib.loads(SCRIPT.read_text("utf-8"))["remark"]
    return remarks


def tell(
    *said: str, state: State | None = None, outline: str = "reversing_gearbox"
) -> tuple[State, list[StepEvent]]:
    """Say one thing after another, ten seconds apart."""
    events: list[StepEvent] = []
    now = state or State()
    for index, text in enumerate(said):
        now, event = advance(
            now, parser_of(outline).parse(text), pack_of(outline), 10.0 * (index + 1)
        )
        events.append(event)
    return now, events


def told(
    *script: tuple[str, list[str]] | str,
    state: State | None = None,
    outline: str = "reversing_gearbox",
) -> State:
    """Say a script through: a remark alone, or with all the warnings that it must bring."""
    now = state or State()
    for line in script:
        said, warnings = (line, None) if isinstance(line, str) else line
        now, events = tell(said, state=now, outline=outline)
        if warnings is not None:
            assert warned(events) == warnings, said
    return now


def answered(said: str, state: State, outline: str = "reversing_gearbox") -> list[str]:
    """Give the lines said back to a question."""
    _, events = tell(said, state=state, outline=outline)
    return (events[0].answer or "").splitlines()


def book_of(state: State, outline: str = "reversing_gearbox") -> Ledger:
    """Give the ledger of what was said."""
    known = pack_of(outline).outline
    assert known is not None
    return ledger(standing(state.log), known)


def line_of(state: State, step: str, part: str, outline: str = "reversing_gearbox") -> LedgerLine:
    """Give one line of the ledger."""
    (found,) = (line for line in book_of(state, outline).of_step(step) if line.part == part)
    return found


def warned(events: Iterable[StepEvent]) -> list[str]:
    return [warning for event in events for warning in event.warnings]
