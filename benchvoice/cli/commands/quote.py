"""`benchvoice quote`: labour time from past sessions."""

from __future__ import annotations

import json
from argparse import Namespace
from pathlib import Path

from benchvoice.bench.past import past_times
from benchvoice.cli import options
from benchvoice.cli.options import Subcommands
from benchvoice.cli.priced import add_options, is_asked, priced, supplement
from benchvoice.grammar import load_outline
from benchvoice.quoting import estimate, quote_text, quote_to_json


def add(commands: Subcommands) -> None:
    """Tell the command line of it."""
    parser = commands.add_parser("quote", help="labour time from past sessions")
    options.outline(parser, required=True)
    parser.add_argument("session", type=Path, nargs="*", help="past sessions, or folders of them")
    parser.add_argument("--rate", type=options.money, help="price of an hour")
    parser.add_argument("--json", action="store_true", help="the published JSON")
    add_options(parser)
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice quote`."""
    outline = load_outline(args.outline)
    if args.revise is not None:
        return supplement(args, outline)
    given = estimate(outline, past_times(args.session, outline), rate=args.rate)
    if is_asked(args):
        return priced(args, given, outline)
    if args.json:
        print(json.dumps(quote_to_json(given)))
    else:
        print(quote_text(given), end="")
    return 0
