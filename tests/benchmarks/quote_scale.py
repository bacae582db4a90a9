"""Print how long a quote takes from 100, 1,000 and 10,000 past sessions of 200 events.

    python tests/benchmarks/quote_scale.py [--sizes 100,1000,10000] [--folder DIR]

The sessions are made from the demo history's own lines, about 90 kB each (10,000
take 0.9 GB in `--folder`, a new temporary folder unless given).  Each quote is
a program of its own, held to one core: the first reads every session, the next
finds them in the index, the last finds one session changed.  "CPU" is user and
system time, "peak" the largest resident set, both of the whole program.  Its code
is compiled beforehand, as it is once it is installed.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, NamedTuple
from zlib import crc32

from benchvoice.session.values import SCHEMA

ROOT = Path(__file__).parents[2]
HISTORY = ROOT / "demo_sessions" / "history"
EVENTS = 200


class Cost(NamedTuple):
    """What one program took: seconds by the clock and of CPU, MB at its largest."""

    wall: float
    cpu: float
    peak: float


def events() -> list[list[str]]:
    """Give the demo's events, a list a session: each as JSON from its kind on."""
    sessions = []
    for journal in sorted(HISTORY.glob("*/session.jsonl")):
        lines = [json.loads(line) for line in journal.read_text().splitlines()]
        sessions.append([_rest(line) for line in lines if line.get("record") == "event"])
    return sessions


def _rest(event: dict[str, Any]) -> str:
    """Drop what is written anew, and what refers to other events or stops the clock."""
    gone = ("record", "seq", "sitting", "t", "wall", "amends")
    kept = {key: value for key, value in event.items() if key not in gone}
    if kept["kind"] in ("recounted", "struck", "paused", "resumed"):
        kept["kind"] = "asked"
    return json.dumps(kept, separators=(",", ":"))[1:]


def journal_of(number: int, source: list[str], dice: random.Random) -> str:
    """Write one session of `EVENTS` events: each of the source's about twice, in its order."""
    start = datetime(2015, 1, 5, 7, 30, tzinfo=UTC) + timedelta(hours=9 * number)
    wall = start.isoformat()
    lines = [
        f'{{"schema":{SCHEMA},"what":"benchvoice session"}}',
        '{"record":"header","outline":"reversing_gearbox","invented":true}',
        f'{{"record":"opened","sitting":1,"t":0.0,"wall":"{wall}"}}',
    ]
    t, pace = 0.0, dice.lognormvariate(0.0, 0.2)
    for seq in range(1, EVENTS + 1):
        t += 300.0 * pace * dice.lognormvariate(0.0, 0.4)
        head = f'{{"record":"event","seq":{seq},"sitting":1,"t":{t:.3f},"wall":"{wall}",'
        lines.append(head + source[(seq - 1) * len(source) // EVENTS])
    end = (start + timedelta(seconds=t)).isoformat(timespec="seconds")
    lines.append(f'{{"record":"closed","sitting":1,"t":{t:.3f},"wall":"{end}"}}')
    return "".join(summed(line, n) for n, line in enumerate(lines, start=1))


def summed(line: str, n: int) -> str:
    """Number a line and give it its checksum, as `session.lines` has it."""
    body = f'{line[:-1]},"n":{n}'
    return f'{body},"sum":"{crc32(body.encode()):08x}"}}\n'


def grow(folder: Path, have: int, size: int) -> None:
    """Add sessions up to `size`."""
    sources = events()
    for number in range(have, size):
        session = folder / f"session_{number:05d}"
        session.mkdir(exist_ok=True)
        text = journal_of(number, sources[number % len(sources)], random.Random(number))
        (session / "session.jsonl").write_text(text)


def quote(folder: Path, cache: Path) -> Cost:
    """Run one quote and say what it took."""
    argv = [sys.executable, "-m", "benchvoice", "quote", "--outline", "reversing_gearbox"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(cache)}
    environment |= dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"), "1")
    environment["PYTHONPYCACHEPREFIX"] = str(cache.parent / "compiled")
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    subprocess.run([*argv, "--help"], env=environment, stdout=subprocess.DEVNULL, check=True)
    began = time.perf_counter()
    program = subprocess.Popen(
        [*argv, "--json", str(folder)], env=environment, stdout=subprocess.DEVNULL
    )
    _, status, used = os.wait4(program.pid, 0)
    wall = time.perf_counter() - began
    program.returncode = os.waitstatus_to_exitcode(status)
    if program.returncode:
        raise SystemExit(f"the quote failed with {program.returncode}")
    return Cost(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def costs(folder: Path, cache: Path) -> Iterator[tuple[str, Cost]]:
    """Yield the cost of a first quote, a second one, and one after a session has changed."""
    yield "first", quote(folder, cache)
    yield "again", quote(folder, cache)
    changed = next(folder.glob("*/session.jsonl"))
    os.utime(changed)
    yield "1 changed", quote(folder, cache)


def main() -> None:
    """Read the arguments and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sizes", default="100,1000,10000")
    parser.add_argument("--folder", type=Path)
    given = parser.parse_args()
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    with tempfile.TemporaryDirectory(dir=given.folder) as made:
        sessions = Path(made) / "sessions"
        sessions.mkdir()
        print(
            f"{'sessions':>8} {'quote':<10} {'wall s':>7} {'CPU s':>7} {'peak MB':>8}  CPU ms each"
        )
        have = 0
        for size in (int(item) for item in given.sizes.split(",")):
            grow(sessions, have, size)
            have = size
            for name, cost in costs(sessions, Path(made) / f"cache_{size}"):
                row = f"{size:>8} {name:<10} {cost.wall:>7.2f} {cost.cpu:>7.2f} {cost.peak:>8.0f}"
                print(f"{row}  {1000 * cost.cpu / size:>6.2f}", flush=True)


if __name__ == "__main__":
    main()
