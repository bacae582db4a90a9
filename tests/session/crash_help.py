"""Real processes at work on a session, killed at any moment, and what must be true after it.

Run as a program it is one of the workers: `crash_help.py replay|correct FOLDER`.  Each prints a
line when a record is confirmed, as the command line does.
"""

from __future__ import annotations

import os
import random
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from benchvoice.session import (
    JOURNAL_NAME,
    Corrections,
    Header,
    correcting,
    inspect,
    read_session,
    real_clock,
    redo,
    undo,
)

ROOT = Path(__file__).parents[2]
RECORDING = ROOT / "tests" / "recordings" / "bench_flite.flac"
REMARKS = (
    "start drain the oil", "one drain plug off the sump", "eight bolts off the front cover",
    "one seal cracked", "next", "make that nine", "strike that", "two dowel pins good",
    "bearing is worn replace", "stop the clock", "start the clock again", "end play twelve thou",
)  # fmt: skip
_CONFIRMED = re.compile(rb"^\d+:\d\d:\d\d  ")


@dataclass(frozen=True)
class Kill:
    """What one kill left: lines confirmed before it, records found, and what was left over."""

    confirmed: int
    recorded: int
    torn: int
    left_over: int

    @property
    def lost(self) -> int:
        return max(0, self.confirmed - self.recorded)


def command(worker: str, folder: Path) -> list[str]:
    if worker != "talk":
        return [sys.executable, __file__, worker, str(folder)]
    talk = ["talk", "--keyboard", "--outline", "worm_reducer", "--session", str(folder)]
    return [sys.executable, "-m", "benchvoice", *talk]


def kill_once(worker: str, folder: Path, draw: random.Random) -> Kill:
    """Let a worker confirm some lines, kill it a little later, and look at what is on the disk.

    Raises AssertionError when anything is wrong with it.
    """
    before = _records(worker, folder)
    confirmed = _run_and_kill(
        command(worker, folder), draw.randrange(0, 12), draw.uniform(0, 0.03), draw
    )
    if not (folder / JOURNAL_NAME).exists() or not (folder / JOURNAL_NAME).stat().st_size:
        assert confirmed == 0
        return Kill(0, 0, 0, 0)
    found = inspect(folder)
    torn = [fault for fault in found.faults if fault.damage]
    assert all("torn last line" in fault.what for fault in torn), torn
    recorded = _records(worker, folder) - before
    left = sum("no entry" in fault.what or "half" in fault.what for fault in found.faults)
    return Kill(confirmed, recorded, len(torn), left)


def _records(worker: str, folder: Path) -> int:
    if not (folder / JOURNAL_NAME).exists():
        return 0
    session = read_session(folder)
    return len(session.amendments if worker == "correct" else session.recorded)


def _run_and_kill(argv: Sequence[str], lines: int, wait: float, draw: random.Random) -> int:
    """Kill after `lines` confirmed lines and `wait` seconds; with none at any time of the start."""
    process = subprocess.Popen(
        argv,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert process.stdin is not None
    assert process.stdout is not None
    threading.Thread(target=_type, args=(process, draw.random()), daemon=True).start()
    confirmed = 0
    if lines:
        for line in process.stdout:
            confirmed += bool(_CONFIRMED.match(line))
            if confirmed >= lines:
                break
        time.sleep(wait)
    else:
        time.sleep(50 * wait)
    process.send_signal(signal.SIGKILL)
    confirmed += sum(bool(_CONFIRMED.match(line)) for line in process.stdout)
    process.wait()
    return confirmed


def _type(process: subprocess.Popen[bytes], seed: float) -> None:
    draw = random.Random(seed)
    try:
        for _ in range(60):
            assert process.stdin is not None
            process.stdin.write(draw.choice(REMARKS).encode() + b"\n")
            process.stdin.flush()
    except OSError:
        return


def _confirm(number: int) -> None:
    print(f"0:00:00  record {number}", flush=True)


def _replay(folder: Path) -> None:
    from benchvoice.bench.ears import Ears
    from benchvoice.bench.replay import replay
    from benchvoice.grammar import load_outline, load_pack
    from benchvoice.hearing import ScriptedEngine

    ears = Ears(load_pack(load_outline("worm_reducer")), ScriptedEngine(REMARKS * 5))
    started = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
    for done in replay(ears, RECORDING, folder, Header(), started=started):
        _confirm(done.event.seq)


def _correct(folder: Path) -> None:
    draw = random.Random(folder.name)
    with Corrections.open(folder, "a hand", real_clock()) as open_:
        while True:
            for make in _corrections(open_, draw):
                open_.amend(make)
                _confirm(len(open_.session.amendments))


def _corrections(open_: Corrections, draw: random.Random) -> Iterator[correcting.Correction]:
    entries = [one.seq for one in open_.session.standing if one.kind in correcting.CORRECTABLE]
    yield correcting.move(open_.session, draw.sample(entries, 2), draw.choice("abc"))
    yield undo(open_.session)
    yield redo(open_.session)


if __name__ == "__main__":
    {"replay": _replay, "correct": _correct}[sys.argv[1]](Path(sys.argv[2]))
