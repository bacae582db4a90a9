"""`benchvoice quote`: labour time from past sessions."""

from __future__ import annotations

import gc
import json
from argparse import ArgumentParser, Namespace
from datetime import date

from benchvoice.bench.past import past_times, read_times, times_before
from benchvoice.bench.past_index import Index, index_path
from benchvoice.cli.quote_options import add_options, check_together, is_priced
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
    check_together(args)
    outline = load_outline(args.outline)
    index = Index(index_path())
    times = past_times(args.session, outline, index)
    if args.backtest:
        tried = backtest(outline, times, forward=args.forward, half_life=args.half_life)
        print(backtest_text(tried), end="")
        return 0
    if args.against is not None:
        print(_against(args, outline, times, index), end="")
        return 0
    made = _forecast(args, outline, times, index)
    if args.explain is not None:
        print(explain_text(explain(made, _step_id(args.explain, outline))), end="")
        return 0
    given = quote_of(made, rate=args.rate, promised=args.promised)
    if is_priced(args):
        from benchvoice.cli.priced import priced, supplement  # late: most quotes have no prices

        (priced if args.revise is None else supplement)(args, given, outline)
    if args.save is not None:
        save_quote(given, args.save, date.today())
    if not is_priced(args):
        print(json.dumps(quote_to_json(given)) + "\n" if args.json else quote_text(given), end="")
    return 0


def _forecast(
    args: Namespace, outline: Outline, times: list[SessionTimes], index: Index
) -> Forecast:
    return forecast(outline, times, half_life=args.half_life, who=args.who, fit_with=index.fit)


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
