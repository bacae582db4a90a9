"""Shared by the tests of the session stage: short sessions written through the real journal."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from benchvoice.follow import StepEvent
from benchvoice.remark import Finding, Remark
from benchvoice.session import Header, Journal, ScriptedClock, Session, read_session

START = datetime(2026, 3, 2, 8, 0, tzinfo=timezone(timedelta(hours=-5)))
HEADER = Header(outline="reversing_gearbox", job="J 1", unit="gearbox", who="me", invented=True)


def event(seq: int, kind: str, at: float, step: str | None = None, **more: Any) -> StepEvent:
    findings = more.pop("findings", ())
    number = more.pop("number", None)
    remark = Remark(heard=f"said {seq}", kind="remark", findings=findings, number=number)
    return StepEvent(seq=seq, kind=kind, at=at, step=step, remark=remark, **more)  # type: ignore[arg-type]


def bolts(count: int | None) -> tuple[Finding, ...]:
    return (Finding(part="bolt", count=count, place="front cover", action="removed"),)


def written(folder: Path, *sittings: Iterable[StepEvent], last: float | None = None) -> Session:
    """Write sittings a day apart; each closes after `last` seconds, or at its last event."""
    scripted = ScriptedClock(START)
    for number, events in enumerate(sittings):
        if number == 0:
            journal = Journal.create(folder, HEADER, scripted.clock)
        else:
            scripted.advance(24 * 3600)
            journal = Journal.open(folder, scripted.clock)
        for one in events:
            scripted.advance(max(0.0, one.at - journal.elapsed()))
            journal.append_event(one)
        journal.close_sitting(last)
    return read_session(folder)
