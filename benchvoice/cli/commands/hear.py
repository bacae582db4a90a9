"""`benchvoice hear`: what was said in recordings."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from benchvoice.bench.ears import Heard, hear_file, open_ears
from benchvoice.cli import devices, options
from benchvoice.cli.options import optional_outline
from benchvoice.cli.printing import tell_missing
from benchvoice.remark import remark_to_json
from benchvoice.sheets import finding_text


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("audio", type=Path, nargs="+")
    options.outline(parser, required=False)
    devices.engine(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object per utterance")
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice hear`."""
    outline = optional_outline(args)
    ears = open_ears(
        outline, args.engine, args.model, own=options.own_words(), voice=devices.voice_of(args)
    )
    tell_missing(ears)
    for path in args.audio:
        for heard in hear_file(ears, path):
            print(json.dumps(_heard_json(path, heard)) if args.json else _heard_line(path, heard))
    return 0


def _heard_json(path: Path, heard: Heard) -> dict[str, Any]:
    times = {"start": round(heard.utterance.start, 3), "end": round(heard.utterance.end, 3)}
    return {"file": str(path), **times, **remark_to_json(heard.remark)}


def _heard_line(path: Path, heard: Heard) -> str:
    remark = heard.remark
    meaning: Iterable[str] = map(finding_text, remark.findings)
    said = "; ".join(meaning) or (remark.command or "not understood")
    return f'{path.name} {heard.utterance.start:8.2f}  "{remark.heard}"  {said}'
