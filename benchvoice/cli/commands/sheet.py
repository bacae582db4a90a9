"""`benchvoice sheet`: a sheet of a session, to read, to print, or for a spreadsheet."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path

from benchvoice.cli import options
from benchvoice.cli.options import session_outline, terminal_width
from benchvoice.cli.output import format_of
from benchvoice.disk import write_whole
from benchvoice.errors import BadInput
from benchvoice.grammar import load_pack
from benchvoice.session import CLIPS, JOURNAL_NAME, Session, placed, read_session
from benchvoice.sheets import Sheet, csv_of, embedded, html_of, json_of, linked, sheet_of, text_of
from benchvoice.sheets.render.html import no_clips


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("session", type=Path, help="a session folder")
    kinds = ("teardown", "parts", "reassembly", "hardware")
    parser.add_argument("--kind", required=True, choices=kinds)
    parser.add_argument("--format", choices=options.FORMATS, help="text, or what --out ends in")
    parser.add_argument("--out", type=Path, metavar="FILE", help="a file instead of the screen")
    options.outline(parser, required=False)
    clips = parser.add_mutually_exclusive_group()
    clips.add_argument(
        "--no-clips", action="store_true", help="html: a small page, clips are only named"
    )
    clips.add_argument(
        "--link-clips", action="store_true", help="html: clips are played from the session folder"
    )
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice sheet`."""
    kind = format_of(args.format, args.out)
    if args.link_clips and not args.out:
        raise BadInput("--link-clips needs --out", mend="say where the page is to be")
    read = read_session(args.session)
    outline = session_outline(read, args.outline)
    pack = load_pack(outline, options.own_words())
    session = placed(read, outline, pack)
    sheet = sheet_of(args.kind, session, pack)
    text = _rendered(sheet, kind, session, args)
    if args.out is None:
        print(text, end="")
    else:
        _write(args.out, text, session, "utf-8-sig" if kind == "csv" else "utf-8")
        print(f"{sheet.head.title} in {args.out}", file=sys.stderr)
    return 0


def _rendered(sheet: Sheet, kind: str, session: Session, args: Namespace) -> str:
    if kind == "html":
        clips = embedded(session.folder)
        if args.no_clips:
            clips = no_clips
        elif args.link_clips:
            clips = linked(session.folder, args.out)
        return html_of(sheet, clips)
    if kind == "csv":
        return csv_of(sheet)
    if kind == "json":
        return json_of(sheet)
    return text_of(sheet, 80 if args.out else terminal_width())


def _write(path: Path, text: str, session: Session, encoding: str) -> None:
    """Write a sheet; the journal and the clips are never written over."""
    home = session.folder.resolve()
    target = path.resolve()
    if target == home / JOURNAL_NAME or target.is_relative_to(home / CLIPS):
        raise BadInput("is part of the session itself", mend="give another file", file=path)
    write_whole(text, path, encoding)
