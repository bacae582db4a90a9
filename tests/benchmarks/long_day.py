"""An eight-hour day at the bench: time and memory of each remark by the hour; a huge session.

    python tests/benchmarks/long_day.py [--hours 8] [--every 60] [--spoken] [--entries 10000]

The clock is simulated, the desk and the disk are real, and the live screen takes in each entry.  A
remark a minute all day is more than anybody says; then so many are said in the same hours that
there are 10,000.  Each hour begins with the same remarks, so that hours can be compared.  Time and
memory (the highest so far) should stay level: the last line is the processor time of a remark in
the last hour over that in the first, by median and by mean.
Processor time tells more than time where the machine is busy.  Before the clock runs a few remarks
are said at another desk, for what is made once for an outline is no part of the first hour.  Then a
session of 10,000 entries is read, timed and shown.
"""

from __future__ import annotations

import argparse
import itertools
import resource
import statistics
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import TypeVar

import numpy as np

from benchvoice.audio import SAMPLE_RATE, Utterance
from benchvoice.bench.desk import Desk
from benchvoice.bench.ears import Ears
from benchvoice.follow import StepEvent
from benchvoice.grammar import load_outline, load_pack
from benchvoice.hearing import ScriptedEngine
from benchvoice.screens.live.app import LiveScreen
from benchvoice.session import (
    Header,
    Journal,
    ScriptedClock,
    find_sessions,
    history,
    labour,
    read_session,
)
from benchvoice.sheets import session_text

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"
START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
HOUR = 3600.0
T = TypeVar("T")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--hours", type=float, default=8.0)
    parser.add_argument("--every", type=float, default=60.0, help="seconds from remark to remark")
    parser.add_argument("--spoken", action="store_true", help="utterances of 3 s, with clips")
    parser.add_argument("--entries", type=int, default=10_000, help="of the huge session")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        ears = warmed(Path(name) / "before")
        print(f"a remark every {args.every:g} s")
        day(ears, Path(name) / "day", args.hours, args.every, spoken=args.spoken)
        every = args.hours * HOUR / args.entries
        print(f"{args.entries} remarks, one every {every:.2g} s, not synced to the disk")
        day(ears, Path(name) / "long", args.hours, every, synced=False)
        huge(Path(name) / "huge", args.entries)


@cache
def history_remarks() -> tuple[str, ...]:
    """Give what was said in the past sessions."""
    return tuple(
        entry.remark.heard
        for path in find_sessions([HISTORY])
        for entry in read_session(path).entries
    )


def warmed(folder: Path) -> Ears:
    """Give ears with which a whole past session was followed already."""
    ears = Ears(load_pack(load_outline("reversing_gearbox")), None)
    with Desk.open(ears, folder, Header(), ScriptedClock(START).clock) as desk:
        for text in history_remarks()[:160]:
            desk.typed(text)
    return ears


def day(
    ears: Ears,
    folder: Path,
    hours: float,
    every: float,
    *,
    spoken: bool = False,
    synced: bool = True,
) -> None:
    clock = ScriptedClock(START)
    rng = np.random.default_rng(1)
    outline = ears.outline
    assert outline is not None
    sync = {} if synced else {"sync": lambda _: None}
    print("hour  remarks  median ms  longest ms  processor ms: median   mean  memory MB")
    hourly: list[list[float]] = []
    with Desk(ears, Journal.create(folder, Header(), clock.clock, **sync)) as desk:
        screen = LiveScreen(desk, outline)
        for hour in range(int(hours)):
            spent: list[float] = []
            worked: list[float] = []
            remarks = itertools.cycle(history_remarks())
            ears.engine = ScriptedEngine(remarks)
            while desk.elapsed < (hour + 1) * HOUR:
                clock.advance(every)
                noise = rng.normal(0, 1000, 3 * SAMPLE_RATE if spoken else 0).astype(np.int16)
                said = Utterance(samples=noise, start=desk.elapsed - 3, end=desk.elapsed)
                begun, started = time.perf_counter(), time.process_time()
                done = desk.heard(said) if spoken else desk.typed(next(remarks))
                if done is not None:
                    screen.show(done)
                    screen.tick(None, "")
                spent.append(1000 * (time.perf_counter() - begun))
                worked.append(1000 * (time.process_time() - started))
            hourly.append(worked)
            memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            print(
                f"{hour + 1:4}  {len(spent):7}  {statistics.median(spent):9.1f}  "
                f"{max(spent):10.1f}  {statistics.median(worked):20.2f}  "
                f"{statistics.mean(worked):5.2f}  {memory:9.1f}",
                flush=True,
            )
    first, last = hourly[0], hourly[-1]
    median = statistics.median(last) / statistics.median(first)
    mean = statistics.mean(last) / statistics.mean(first)
    print(f"last hour over first: median {median:.2f}, mean {mean:.2f}")


def huge(folder: Path, entries: int) -> None:
    """Write a session of so many entries without syncing, and time what reads it."""
    past = itertools.cycle(
        entry
        for path in find_sessions([HISTORY])
        for entry in read_session(path).entries
        if entry.kind == "finding"
    )
    clock = ScriptedClock(START)
    with Journal.create(folder, Header(), clock.clock, sync=lambda _: None) as journal:
        for seq, entry in zip(range(1, entries + 1), past, strict=False):
            clock.advance(3)
            at = journal.elapsed()
            journal.append_event(
                StepEvent(seq=seq, kind="finding", at=at, step=entry.step, remark=entry.remark)
            )
    size = (folder / "session.jsonl").stat().st_size / 1e6
    session = timed(f"read {entries} entries ({size:.1f} MB)", lambda: read_session(folder))
    timed("labour", lambda: labour(session))
    timed("history", lambda: history(session))
    outline = load_outline("reversing_gearbox")
    timed("sheet", lambda: session_text(session, outline))


def timed(name: str, work: Callable[[], T]) -> T:
    begun = time.perf_counter()
    done = work()
    print(f"{name}: {time.perf_counter() - begun:.2f} s")
    return done


if __name__ == "__main__":
    main()
