"""Kill, fill and lock out: what a session costs when the machine fails.

    python tests/benchmarks/crash.py [--kills 200] [--only talk replay correct] [--seed 1]

Real processes are killed with SIGKILL at random moments, shared among `talk --keyboard`, a replay
and a correcting; the session is taken up again after each.  As root, a disk of 256 KiB is filled by
`talk`, and a folder is made read-only.  Prints counts; "lost" must be 0.
"""

from __future__ import annotations

import argparse
import os
import random
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "session"))

from crash_help import REMARKS, ROOT, command, kill_once
from session_help import bolts, event, written

from benchvoice.session import JOURNAL_NAME, Journal, inspect, read_session, real_clock

WORKERS = ("talk", "replay", "correct")
PER_FOLDER = 10
"""So many kills of one session before another is begun; a recording is played once into each."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--only", nargs="*", choices=WORKERS, default=WORKERS)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    draw = random.Random(args.seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for index, worker in enumerate(args.only):
            share = args.kills // len(args.only) + (index < args.kills % len(args.only))
            counts = kill_all(worker, folder / worker, share, draw)
            print(f"{worker:8} {summary(counts)}", flush=True)
        if os.geteuid() == 0:
            print(f"{'disk':8} {full_disk(folder / 'disk')}")
            print(f"{'locked':8} {read_only(folder / 'locked')}")


def kill_all(worker: str, folder: Path, times: int, draw: random.Random) -> Counter[str]:
    counts: Counter[str] = Counter()
    each = 1 if worker == "replay" else PER_FOLDER
    for number in range(times):
        session = folder / str(number // each)
        if worker == "correct" and not session.exists():
            written(session, [event(n, "finding", n, "a", findings=bolts(n)) for n in (1, 2, 3)])
        kill = kill_once(worker, session, draw)
        counts["kills"] += 1
        counts["before the first line"] += kill.confirmed == 0
        counts["confirmed"] += kill.confirmed
        counts["recorded"] += kill.recorded
        counts["lost"] += kill.lost
        counts["torn ends"] += kill.torn
        counts["files left over"] += kill.left_over
        if (session / JOURNAL_NAME).exists() and (session / JOURNAL_NAME).stat().st_size:
            Journal.open(session, real_clock()).close_sitting()
            counts["opened again, whole"] += inspect(session).whole
    return counts


def summary(counts: Counter[str]) -> str:
    return ", ".join(f"{name} {count}" for name, count in counts.items())


def full_disk(mount: Path) -> str:
    """Fill a small disk from `talk`; all that it confirmed must be there."""
    mount.mkdir()
    if _mount(mount, "size=256k"):
        return "not tried: no disk can be mounted here"
    try:
        done = _talk(mount / "job", "\n".join(REMARKS * 60))
        confirmed = sum(line[:2] == "0:" for line in done.stdout.splitlines())
        session = read_session(mount / "job")
        return (
            f"confirmed {confirmed}, recorded {len(session.recorded)}, damaged lines "
            f"{len(session.damage)}, exit code {done.returncode}: {done.stderr.strip()}"
        )
    finally:
        subprocess.run(["umount", str(mount)], check=False)


def read_only(mount: Path) -> str:
    """Try to work on a session that cannot be written."""
    mount.mkdir()
    if _mount(mount, "size=1m"):
        return "not tried: no disk can be mounted here"
    try:
        _talk(mount / "job", REMARKS[0])
        _mount(mount, "remount,ro")
        done = _talk(mount / "job", REMARKS[1])
        shown = subprocess.run(
            [sys.executable, "-m", "benchvoice", "show", str(mount / "job")],
            capture_output=True,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            check=False,
        )
        return f"exit code {done.returncode}: {done.stderr.strip()}; show {shown.returncode}"
    finally:
        subprocess.run(["umount", str(mount)], check=False)


def _mount(mount: Path, options: str) -> int:
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", options, "none", str(mount)],
        capture_output=True,
        check=False,
    )
    return made.returncode


def _talk(folder: Path, text: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command("talk", folder),
        input=text + "\nquit\n",
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=False,
    )


if __name__ == "__main__":
    main()
