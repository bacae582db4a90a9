"""`benchvoice replay`: a recording of the bench into a session."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TextIO

from benchvoice.bench.ears import open_ears
from benchvoice.bench.replay import replay, start_of
from benchvoice.cli import devices, options
from benchvoice.cli.options import header_of, job_outline, terminal_width
from benchvoice.cli.printing import event_json, tell_missing
from benchvoice.session import real_clock
from benchvoice.sheets import event_lines


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("audio", type=Path, help="WAV, FLAC or OGG, any rate, mono or stereo")
    options.outline(parser, required=False)
    options.session(parser, required=True)
    devices.engine(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object per event")
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice replay`."""
    outline = job_outline(args)
    started = start_of(args.audio, real_clock())
    ears = open_ears(
        outline, args.engine, args.model, own=options.own_words(), voice=devices.voice_of(args)
    )
    tell_missing(ears)
    shown = 0
    for recorded in replay(
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
