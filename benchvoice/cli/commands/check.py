"""`benchvoice check`: what is there on the machine, or whether sessions are whole."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace
from pathlib import Path

from benchvoice.cli.options import terminal_width
from benchvoice.errors import BadInput
from benchvoice.hearing import engine_report
from benchvoice.session import Fault, Inspection, Mended, find_sessions, inspect, repair
from benchvoice.sheets import wrapped
from benchvoice.words import talk_report, user_home


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument(
        "session", nargs="?", type=Path, help="a session folder, or a folder of them, to look at"
    )
    parser.add_argument("--json", action="store_true", help="one JSON object a line")
    parser.add_argument(
        "--repair",
        action="store_true",
        help="write a mended copy of a damaged journal beside it, and the damaged lines to a file",
    )
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice check`."""
    if args.session is not None:
        return _check_sessions(args)
    if args.repair:
        raise BadInput("nothing to repair was given", mend="name the session: check SESSION")
    for found in (*engine_report(), *talk_report(user_home())):
        if args.json:
            entry = {"what": found.what, "present": found.present, "detail": found.detail}
            print(json.dumps(entry | {"mend": None if found.present else found.mend or None}))
            continue
        print(f"{'yes' if found.present else 'NO ':4}{found.what:22} {found.detail}")
        if not found.present and found.mend:
            print(f"    {'':22} to mend it: {found.mend}")
    return 0


def _check_sessions(args: Namespace) -> int:
    whole = True
    for path in [args.session] if args.session.is_file() else find_sessions([args.session]):
        found = inspect(path)
        mended = repair(path) if args.repair else None
        whole = whole and found.whole
        if args.json:
            _print_json(path, found, mended)
        else:
            _print(path, found, mended, repairing=args.repair)
    return 0 if whole else 2


def _print_json(path: Path, found: Inspection, mended: Mended | None) -> None:
    for fault in found.faults:
        entry = {"line": fault.line, "what": fault.what, "text": fault.text}
        print(json.dumps({"session": str(path), **entry, "damage": fault.damage}))
    counts = {"records": found.records, "entries": len(found.session.recorded)}
    summary = {"session": str(path), "whole": found.whole, **counts, "clips": found.clips}
    if mended is not None:
        summary |= {"mended": str(mended.journal), "damaged_lines": str(mended.damaged)}
    print(json.dumps(summary))


def _print(path: Path, found: Inspection, mended: Mended | None, *, repairing: bool) -> None:
    width = terminal_width()
    state = "whole" if found.whole else "DAMAGED; what is not named here is whole"
    print(
        f"{path}: {state} ({found.records} records, {len(found.session.recorded)} entries, "
        f"{found.clips} clips)"
    )
    for fault in found.faults:
        mark = "  ! " if fault.damage else "  - "
        print("\n".join(wrapped(mark, _said(fault), width)))
    if mended is not None:
        print(
            f"  mended copy: {mended.journal}\n"
            f"  damaged lines as they stood: {mended.damaged}\n"
            f"  look at it: benchvoice show {mended.journal}\n"
            "  to go on with it, rename session.jsonl, and the copy to session.jsonl"
        )
    elif repairing:
        print("  no line is damaged, so no copy was written")


def _said(fault: Fault) -> str:
    where = f"line {fault.line}: " if fault.line else ""
    return f"{where}{fault.what}{f': {fault.text}' if fault.text else ''}"
