"""`benchvoice parse`: what remarks mean, one JSON object a line."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import TextIO

from benchvoice.bench.ears import Ears
from benchvoice.cli import options
from benchvoice.cli.options import optional_outline
from benchvoice.grammar import load_pack
from benchvoice.remark import remark_to_json


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("text", nargs="*", help="remarks; lines of standard input if none")
    options.outline(parser, required=False)
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice parse`."""
    ears = Ears(load_pack(optional_outline(args), options.own_words()), None)
    for text in args.text or _lines(sys.stdin):
        print(json.dumps(remark_to_json(ears.read(text))), flush=not args.text)
    return 0


def _lines(stream: TextIO) -> Iterator[str]:
    for line in stream:
        if line.strip():
            yield line.strip()
