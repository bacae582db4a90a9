"""`benchvoice learn`: words taken from corrections."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from benchvoice.bench.ears import Ears, build_engine
from benchvoice.cli import devices
from benchvoice.cli.options import found_outline
from benchvoice.errors import BadInput
from benchvoice.grammar import Outline, Pack, load_pack
from benchvoice.hearing import pronounce
from benchvoice.learning import (
    EarGain,
    Gain,
    Pair,
    Proposal,
    Sounding,
    keep,
    measure,
    measure_by_ear,
    pairs_of,
    propose,
    uncorrected,
)
from benchvoice.session import Session, find_sessions, read_session
from benchvoice.sheets.layout import counted
from benchvoice.words import FILE_NAME, user_home


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("session", type=Path, nargs="+", help="session folders, or folders of them")
    parser.add_argument("--list", action="store_true", help="show what could be learnt, no more")
    parser.add_argument("--yes", action="store_true", help="take all of it without asking")
    parser.add_argument(
        "--least", type=_count, default=1, metavar="N", help="only what was seen N times or more"
    )
    parser.add_argument("--to", type=Path, metavar="FILE", help="the word file, if not your own")
    parser.add_argument(
        "--listen", action="store_true", help="also try it on corrected clips, which takes a while"
    )
    devices.engine(parser)
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice learn`."""
    if not (args.list or args.yes or sys.stdin.isatty()):
        raise BadInput("there is nobody to ask", mend="give --list or --yes")
    path = args.to or user_home() / FILE_NAME
    sessions = [read_session(folder) for folder in find_sessions(args.session)]
    pack = load_pack(_outline(sessions), [path] if path.exists() else [])
    pairs = [pair for session in sessions for pair in pairs_of(session)]

    def sounding(words: Iterable[str]) -> Mapping[str, tuple[str, ...]]:
        return pronounce(words, pack.pronounce).entries

    proposals = propose(pairs, pack, sounding, args.least)
    print(f"{counted(len(pairs), 'correction')} in {counted(len(sessions), 'session')}")
    if not proposals:
        print("They teach no new words.")
        return 0
    untouched = [remark for session in sessions for remark in uncorrected(session)]
    print(_gain_text(measure(pairs, untouched, pack, sounding, args.least)))
    if args.listen:
        print(_ear_text(_listened(args, pairs, pack, sounding)))
    taken = list(_taken(proposals, args))
    if taken:
        keep(path, taken, pack)
    if not args.list:
        print(f"{counted(len(taken), 'entry', 'entries')} put into {path}")
    return 0


def _taken(proposals: Sequence[Proposal], args: Namespace) -> Iterator[Proposal]:
    """Show each proposal, and ask for it unless the user said not to."""
    for number, proposal in enumerate(proposals, start=1):
        pair = proposal.example
        print(f"\n{number}. {proposal.text}, seen {counted(proposal.seen, 'time')}")
        print(f"   {_example(pair)}")
        if args.list:
            continue
        answer = "y" if args.yes else _asked()
        if answer == "q":
            return
        if answer == "y":
            yield proposal


def _asked() -> str:
    while True:
        try:
            answer = input("   take it? y, n, or q to stop: ").strip().lower()
        except (EOFError, KeyboardInterrupt):  # what was taken so far is kept
            return "q"
        if answer[:1] in ("y", "n", "q"):
            return answer[:1]


def _example(pair: Pair) -> str:
    how = "heard" if pair.by_ear else "typed"
    if pair.moved:
        return f'"{pair.was}" was moved to {pair.step_became} ({pair.session}, entry {pair.seq})'
    return f'{how} "{pair.was}", put right "{pair.became}" ({pair.session}, entry {pair.seq})'


def _gain_text(gain: Gain) -> str:
    return (
        f"Of {counted(gain.pairs, 'retyped remark')} {gain.before} would be read right as "
        f"recorded, {gain.after} with what the others teach;\n"
        f"of {gain.untouched} remarks that nobody corrected {gain.changed} would be read otherwise."
    )


def _listened(args: Namespace, pairs: list[Pair], pack: Pack, sounding: Sounding) -> EarGain:
    def ears(pack: Pack) -> Ears:
        return Ears(pack, build_engine(pack, args.engine, args.model))

    return measure_by_ear(pairs, pack, ears, sounding, args.least)


def _ear_text(gain: EarGain) -> str:
    return (
        f"Of {counted(gain.clips, 'corrected clip')} listened to again {gain.before} "
        f"were heard right before, {gain.after} with what the others teach."
    )


def _outline(sessions: Sequence[Session]) -> Outline | None:
    """The outline of the sessions, when it can be found; all have to be of one."""
    names = {session.header.outline for session in sessions if session.header.outline}
    if len(names) > 1:
        raise BadInput(
            f"the sessions are of several outlines ({', '.join(sorted(names))})",
            mend="give those of one at a time",
        )
    return found_outline(next(iter(names), None), "its words")


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) < 1:
        raise ArgumentTypeError(f"{text!r} is no count; give 1 or more")
    return int(text)
