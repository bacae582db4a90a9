"""How the corrections editor bears a large session: time to open, time per key, memory.

    python tests/benchmarks/editor_scale.py [ENTRIES]

The whole application runs on a terminal output of 80 by 24 that goes to
memory; a key's time is from its bytes being sent to the end of the drawing.
"""

from __future__ import annotations

import json
import resource
import sys
import tempfile
import time
from io import StringIO
from pathlib import Path
from statistics import median

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


def main() -> None:
    """Print the figures."""
    entries = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        large_session(folder, entries)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        began = time.perf_counter()
        with Corrections.open(folder, "bench", ScriptedClock(START).clock) as corrections:
            read = time.perf_counter()
            outline = load_outline("reversing_gearbox")
            reader = Reader(lambda: load_pack(outline))
            editor = Editor(corrections, outline, reader, SilentPlayer())
            times, first = run(editor)
        print(f"{entries} entries")
        print(f"  open: {first - began:.3f} s to the first screen (reading {read - began:.3f} s)")
        for what, took in times.items():
            print(
                f"  {what:<18} median {1e3 * median(took):7.1f} ms, most {1e3 * max(took):7.1f} ms"
            )
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(f"  memory: {peak - before:.0f} MiB more at its peak ({peak:.0f} MiB in all)")


def run(editor: Editor) -> tuple[dict[str, list[float]], float]:
    """Send the keys one by one, each when the last was drawn; give times and the first drawing."""
    times: dict[str, list[float]] = {what: [] for what, _ in KEYS}
    keys = iter([(what, key) for what, group in KEYS for key in group])
    drawn: list[float] = []
    sent: list[tuple[str, float]] = []
    with create_pipe_input() as pipe:
        app = editor_app(editor, input=pipe, output=output_of(StringIO()))

        def more(_: object) -> None:
            now = time.perf_counter()
            drawn.append(now)
            if sent:
                what, at = sent.pop()
                times[what].append(now - at)
            what, key = next(keys, ("", "q"))
            if what:
                sent.append((what, time.perf_counter()))
            pipe.send_text(key)

        app.after_render += more
        app.run()
    return times, drawn[0]


if __name__ == "__main__":
    main()
