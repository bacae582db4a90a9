"""`benchvoice quote`: labour time from past sessions."""

from __future__ import annotations

import gc
import json
from argparse import ArgumentParser, Namespace
from datetime import date
from pathlib import Path

from benchvoice.bench.past import past_times, read_times, times_before
from benchvoice.bench.past_index import Index, index_path
from benchvoice.cli import options
from benchvoice.cli.priced_options import add_options, is_asked
from benchvoice.follow import find_step
from benchvoice.grammar import Outline, load_outline
from benchvoice.quoting import (
    Forecast,
    SessionTimes,
    against,
    against_text,
    as_saved,
    backtest,
    backtest_text,
    explain,
    explain_text,
    forecast,
    load_quote,
    quote_of,
    quote_text,
    quote_to_json,
    save_quote,
)
from benchvoice.session.read import journal_path


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    options.outline(parser, required=True)
    parser.add_argument("session", type=Path, nargs="*", help="past sessions, or folders of them")
    parser.add_argument("--rate", type=options.money, help="price of an hour")
    parser.add_argument("--json", action="store_true", help="the published JSON")
    parser.add_argument(
        "--promised", type=float, metavar="HOURS", help="tell the chance of running over it"
    )
    parser.add_argument("--who", help="who is going to do it, as named in the sessions")
    parser.add_argument(
        "--half-life", type=float, metavar="DAYS", help="sessions this much older count half"
    )
    parser.add_argument("--save", type=Path, metavar="FILE", help="keep the quote as JSON")
    parser.add_argument("--saved", type=Path, metavar="FILE", help="a kept quote, for --against")
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--explain", metavar="STEP", help="where the numbers of a step come from")
    what.add_argument(
        "--backtest", action="store_true", help="predict each past session from the others"
    )
    what.add_argument(
        "--against", type=Path, metavar="SESSION", help="quoted against taken, step by step"
    )
    parser.add_argument(
        "--forward", action="store_true", help="with --backtest: from those before it only"
    )
    add_options(parser)
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice quote`."""
    gc.disable()  # thousands of sessions are many values that stay: collections find nothing
    try:
        return _run(args)
    finally:
        gc.enable()


def _run(args: Namespace) -> int:
    outline = load_outline(args.outline)
    index = Index(index_path())
    times = past_times(args.session, outline, index)
    if args.revise is not None:
        from benchvoice.cli.priced import supplement  # late: most quotes have no prices

        made = _forecast(args, outline, times, index)
        return supplement(args, outline, quote_of(made))
    if args.backtest:
        tried = backtest(outline, times, forward=args.forward, half_life=args.half_life)
        print(backtest_text(tried), end="")
    elif args.against is not None:
        print(_against(args, outline, times, index), end="")
    elif args.explain is not None:
        made = _forecast(args, outline, times, index)
        print(explain_text(explain(made, _step_id(args.explain, outline))), end="")
    elif is_asked(args):
        from benchvoice.cli.priced import priced

        given = quote_of(_forecast(args, outline, times, index), rate=args.rate)
        return priced(args, given, outline)
    else:
        _quote(args, _forecast(args, outline, times, index))
    return 0


def _forecast(
    args: Namespace, outline: Outline, times: list[SessionTimes], index: Index
) -> Forecast:
    return forecast(outline, times, half_life=args.half_life, who=args.who, fit_with=index.fit)


def _quote(args: Namespace, made: Forecast) -> None:
    given = quote_of(made, rate=args.rate, promised=args.promised)
    if args.save is not None:
        save_quote(given, args.save, date.today())
    if args.json:
        print(json.dumps(quote_to_json(given)))
    else:
        print(quote_text(given), end="")


def _against(args: Namespace, outline: Outline, times: list[SessionTimes], index: Index) -> str:
    done = read_times(journal_path(args.against))
    if args.saved is not None:
        return against_text(against(outline, load_quote(args.saved), done))
    before = times_before(times, done)
    quoted = quote_of(_forecast(args, outline, before, index))
    made_on = done.finished_on or date.today()
    note = f"no saved quote was given: made anew from {len(before)} sessions before this one"
    return against_text(against(outline, as_saved(quoted, made_on), done, [note]))


def _step_id(words: str, outline: Outline) -> str:
    """Give the step that was meant: its id, or a way of saying it."""
    if words in outline.by_id:
        return words
    found = find_step(words, outline)
    return found[0].id if len(found) == 1 else words
