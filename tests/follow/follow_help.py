"""Shared by the tests of following."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any

from benchvoice.follow import State, StepEvent, advance
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.language import Parser

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


def warned(events: Iterable[StepEvent]) -> list[str]:
    return [warning for event in events for warning in event.warnings]
