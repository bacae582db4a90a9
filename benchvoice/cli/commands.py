"""One function a command: library calls and printing."""

from __future__ import annotations

import json
import shutil
import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, TextIO

from benchvoice.bench.ears import Ears, Heard, hear_file, open_ears
from benchvoice.bench.past import past_times
from benchvoice.bench.replay import replay as play_into
from benchvoice.bench.replay import start_of
from benchvoice.cli.printing import event_json
from benchvoice.errors import BadInput
from benchvoice.grammar import Outline, load_outline, load_pack
from benchvoice.hearing import engine_report, fetch_model
from benchvoice.quoting import estimate, quote_text, quote_to_json
from benchvoice.remark import remark_to_json
from benchvoice.session import JOURNAL_NAME, Header, find_sessions, read_session, real_clock
from benchvoice.sheets import event_lines, finding_text, session_text, sessions_text


def replay(args: Namespace) -> int:
    """`benchvoice replay`."""
    outline = load_outline(args.outline)
    started = start_of(args.audio, real_clock())
    ears = open_ears(outline, args.engine, args.model)
    tell_missing(ears)
    shown = 0
    for recorded in play_into(
        ears,
        args.audio,
        args.session,
        header_of(args),
        started=started,
        progress=_progress(sys.stderr),
    ):
        shown += 1
        if args.json:
            print(json.dumps(event_json(recorded)))
        else:
            print("\n".join(event_lines(recorded.event, outline, recorded.clip, terminal_width())))
    if not args.json:
        print(f"\n{shown} entries in {args.session}; see them: benchvoice show {args.session}")
    return 0


def hear(args: Namespace) -> int:
    """`benchvoice hear`."""
    outline = _optional_outline(args)
    ears = open_ears(outline, args.engine, args.model)
    tell_missing(ears)
    for path in args.audio:
        for heard in hear_file(ears, path):
            print(json.dumps(_heard_json(path, heard)) if args.json else _heard_line(path, heard))
    return 0


def parse(args: Namespace) -> int:
    """`benchvoice parse`."""
    ears = Ears(load_pack(_optional_outline(args)), None)
    for text in args.text or _lines(sys.stdin):
        print(json.dumps(remark_to_json(ears.read(text))), flush=not args.text)
    return 0


def show(args: Namespace) -> int:
    """`benchvoice show`."""
    if (args.session / JOURNAL_NAME).is_file() or args.session.name == JOURNAL_NAME:
        session = read_session(args.session)
        print(session_text(session, _session_outline(session.header)), end="")
    else:
        print(sessions_text(map(read_session, find_sessions([args.session]))), end="")
    return 0


def quote(args: Namespace) -> int:
    """`benchvoice quote`."""
    outline = load_outline(args.outline)
    given = estimate(outline, past_times(args.session, outline), rate=args.rate)
    if args.json:
        print(json.dumps(quote_to_json(given)))
    else:
        print(quote_text(given), end="")
    return 0


def check(args: Namespace) -> int:
    """`benchvoice check`."""
    for found in engine_report():
        if args.json:
            entry = {"what": found.what, "present": found.present, "detail": found.detail}
            print(json.dumps(entry | {"mend": None if found.present else found.mend or None}))
            continue
        print(f"{'yes' if found.present else 'NO ':4}{found.what:22} {found.detail}")
        if not found.present and found.mend:
            print(f"    {'':22} to mend it: {found.mend}")
    return 0


def fetch(args: Namespace) -> int:
    """`benchvoice fetch-model`."""
    print(fetch_model(args.name) if args.name else fetch_model())
    return 0


def terminal_width() -> int:
    """How wide lines may be: the terminal, or 80."""
    return max(40, shutil.get_terminal_size((80, 24)).columns)


def header_of(args: Namespace) -> Header:
    """Give the session header that the arguments say."""
    return Header(
        outline=str(args.outline), job=args.job, unit=args.unit, serial=args.serial, who=args.who
    )


def tell_missing(ears: Ears) -> None:
    """Name the words that the engine cannot hear."""
    missing = ears.engine.missing if ears.engine else ()
    if missing:
        print(f"benchvoice: cannot be heard, type them: {', '.join(missing)}", file=sys.stderr)


def _optional_outline(args: Namespace) -> Outline | None:
    return load_outline(args.outline) if args.outline else None


def _session_outline(header: Header) -> Outline | None:
    """The outline of a session, when it can still be found; a session is readable without."""
    try:
        return load_outline(header.outline) if header.outline else None
    except BadInput:
        return None


def _lines(stream: TextIO) -> Iterator[str]:
    for line in stream:
        if line.strip():
            yield line.strip()


def _heard_json(path: Path, heard: Heard) -> dict[str, Any]:
    times = {"start": round(heard.utterance.start, 3), "end": round(heard.utterance.end, 3)}
    return {"file": str(path), **times, **remark_to_json(heard.remark)}


def _heard_line(path: Path, heard: Heard) -> str:
    remark = heard.remark
    meaning: Iterable[str] = map(finding_text, remark.findings)
    said = "; ".join(meaning) or (remark.command or "not understood")
    return f'{path.name} {heard.utterance.start:8.2f}  "{remark.heard}"  {said}'


def _progress(stream: TextIO) -> Callable[[float, float], None] | None:
    """Show how far a recording is: in place on a terminal, else every tenth of it."""
    told = [0]

    def tell(done: float, whole: float) -> None:
        tenths = int(10 * done / whole) if whole else 10
        text = f"{_clock(done)} of {_clock(whole)}"
        if stream.isatty():
            print(f"\r{text}", end="\n" if done >= whole else "", file=stream, flush=True)
        elif tenths > told[0] and whole > _LONG:
            print(text, file=stream, flush=True)
        told[0] = tenths

    return tell


_LONG = 60.0
"""A recording of fewer seconds needs no progress line where there is no terminal."""


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"
