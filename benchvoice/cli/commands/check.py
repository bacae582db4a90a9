"""`benchvoice check`: what is there, and what mends what is not."""

from __future__ import annotations

import json
from argparse import Namespace

from benchvoice.cli.options import Subcommands
from benchvoice.hearing import engine_report


def add(commands: Subcommands) -> None:
    """Tell the command line of it."""
    parser = commands.add_parser("check", help="what is there, and what mends what is not")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
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
