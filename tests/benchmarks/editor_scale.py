"""How the corrections editor bears a large session: time to open, time per key, memory.

    python tests/benchmarks/editor_scale.py [ENTRIES]

The whole application runs on a terminal output of 80 by 24 that goes to
memory; a key's time is from its bytes being sent to the end of the drawing.
"""

from __future__ import annotations

import gc
import json
import resource
import sys
import tempfile
import time
from io import StringIO
from pathlib import Path
from statistics import median
from typing import NamedTuple

from prompt_toolkit.input import create_pipe_input

sys.path[:0] = [str(Path(__file__).parents[1] / "screens"), str(Path(__file__).parents[2])]

from screen_help import (  # noqa: E402
    CLEAR,
    DOWN,
    END,
    ENTER,
    ESCAPE,
    HOME,
    PAGE_DOWN,
    START,
    output_of,
)

from benchvoice.grammar import load_outline, load_pack  # noqa: E402
from benchvoice.screens.editor import Editor, Reader, editor_app  # noqa: E402
from benchvoice.screens.player import SilentPlayer  # noqa: E402
from benchvoice.session import Corrections, ScriptedClock  # noqa: E402

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history" / "invented_01"

KEYS: tuple[tuple[str, list[str]], ...] = (
    ("down", [DOWN] * 50),
    ("page down", [PAGE_DOWN] * 50),
    ("last, first", [END, HOME] * 5),
    ("search, a letter", ["/", *"front cover", ENTER]),
    ("stop the search", [ESCAPE]),
    ("next doubtful", ["n"] * 5),
    ("open retype", [ENTER]),
    ("retype, a letter", [CLEAR, *"eight bolts off the front cover"]),
    ("save the retyped", [ENTER]),
    ("delete and undo", ["d", "u"] * 3),
    ("doubtful first", ["o", "o"]),
)


def large_session(folder: Path, entries: int) -> None:
    """Write a session of so many entries, those of a demo session over and over."""
    records = [json.loads(line) for line in (HISTORY / "session.jsonl").open(encoding="utf-8")]
    head = [record for record in records if record.get("record") not in ("event", "closed")]
    events = [record for record in records if record.get("record") == "event"]
    with (folder / "session.jsonl").open("w", encoding="utf-8") as file:
        for record in head:
            file.write(
                json.dumps({k: v for k, v in record.items() if k not in ("n", "sum")}) + "\n"
            )
        for number in range(entries):
            record = {**events[number % len(events)], "seq": number + 1, "t": 5.0 * number}
            for key in ("amends", "n", "sum"):
                record.pop(key, None)
            if number % 9 == 0:
                record["remark"] = {**record["remark"], "confidence": 0.1}
            file.write(json.dumps(record) + "\n")


class Moment(NamedTuple):
    """Seconds on the wall and of this process's own work, from any start."""

    wall: float
    own: float

    def since(self, other: Moment) -> Moment:
        """Give the seconds from another moment to this one."""
        return Moment(self.wall - other.wall, self.own - other.own)


def now() -> Moment:
    """Give this moment."""
    return Moment(time.perf_counter(), time.process_time())


def main() -> None:
    """Print the figures."""
    entries = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        large_session(folder, entries)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        began = now()
        with Corrections.open(folder, "bench", ScriptedClock(START).clock) as corrections:
            read = now().since(began)
            outline = load_outline("reversing_gearbox")
            reader = Reader(lambda: load_pack(outline))
            editor = Editor(corrections, outline, reader, SilentPlayer())
            gc.freeze()  # as the command does
            times, first = run(editor)
        opened = first.since(began)
        print(f"{entries} entries, in milliseconds; own: what this process worked, wall: as it was")
        print(f"  {'':<18} {'own':>7} {'most':>7}   {'wall':>7} {'most':>7}")
        rows = {"open, reading": [read], "open, first screen": [opened], **times}
        for what, took in rows.items():
            own, wall = [1e3 * one.own for one in took], [1e3 * one.wall for one in took]
            cells = [f"{value:7.1f}" for value in (median(own), max(own), median(wall), max(wall))]
            print(f"  {what:<18} {cells[0]} {cells[1]}   {cells[2]} {cells[3]}")
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(f"  memory: {peak - before:.0f} MiB more at its peak ({peak:.0f} MiB in all)")


def run(editor: Editor) -> tuple[dict[str, list[Moment]], Moment]:
    """Send the keys one by one, each when the last was drawn; give times and the first drawing."""
    times: dict[str, list[Moment]] = {what: [] for what, _ in KEYS}
    keys = iter([(what, key) for what, group in KEYS for key in group])
    drawn: list[Moment] = []
    sent: list[tuple[str, Moment]] = []
    with create_pipe_input() as pipe:
        app = editor_app(editor, input=pipe, output=output_of(StringIO()))

        def more(_: object) -> None:
            drawn.append(now())
            if sent:
                what, at = sent.pop()
                times[what].append(drawn[-1].since(at))
            what, key = next(keys, ("", "q"))
            if what:
                sent.append((what, now()))
            pipe.send_text(key)

        app.after_render += more
        app.run()
    return times, drawn[0]


if __name__ == "__main__":
    main()
