"""What quotes were worth, as tables for an 80-column terminal."""

from __future__ import annotations

from textwrap import fill

from benchvoice.quoting.against import Against, StepAgainst
from benchvoice.quoting.backtest import Backtest
from benchvoice.quoting.lines import WIDTH, note_lines
from benchvoice.quoting.text import TITLE, cut, hours_minutes


def backtest_text(given: Backtest) -> str:
    """Give the table of predicted against actual, at most 80 columns, ending in a newline."""
    how = "from those before it" if given.forward else "from all the others"
    lines = [
        fill(f"Quotes for {given.outline} put to the test: each session predicted {how}.", WIDTH),
        "",
        f"{'session':<27} {'past':>4} {'steps':>5} {'actual':>7} {'P10':>7} {'P50':>7} "
        f"{'P80':>7} {'P90':>7}",
    ]
    for row in given.rows:
        times = [hours_minutes(getattr(row.predicted, p)) for p in ("p10", "p50", "p80", "p90")]
        mark = " " if row.predicted.p10 <= row.actual <= row.predicted.p90 else "*"
        cells = " ".join(f"{cell:>7}" for cell in [hours_minutes(row.actual), *times])
        lines.append(f"{row.session[:27]:<27} {row.past:>4} {row.steps:>5} {cells} {mark}".rstrip())
    count = len(given.rows)
    lines += [
        "",
        f"{'':<28} {'P10-P90':>9} {'below P80':>10} {'median error of P50':>20}",
        _line(f"{given.timings} step times", given.inside, given.below, given.step_error),
        _line(f"{count} totals", given.total_inside, given.total_below, given.total_error),
        _line("should be", 0.8, 0.8, None),
        "",
        fill(
            "Times are h:mm of the steps that the session timed; * is outside P10 to P90. With so "
            f"few totals their shares are rough: {count} give them to about "
            f"{100 * (0.8 * 0.2 / count) ** 0.5:.0f} points.",
            WIDTH,
        ),
    ]
    return "\n".join([*lines, *note_lines(given.notes)]) + "\n"


def against_text(given: Against) -> str:
    """Give the table of quoted against taken minutes, at most 80 columns, ending in a newline."""
    lines = [
        fill(f"Session {given.session} against the quote of {given.made_on}", WIDTH),
        "",
        f"{'step (minutes)':<{TITLE}} {'P50':>7} {'P80':>7} {'taken':>7} {'':>7}",
        *(_against_row(row) for row in given.steps),
        "",
        f"{'steps that were timed':<{TITLE}} {given.quoted:>7.1f} {'':>7} {given.taken:>7.1f} "
        f"{_ratio(given.taken, given.quoted):>7}",
    ]
    if given.whole:
        lines.append(
            f"{'whole job':<{TITLE}} {given.total.p50:>7.1f} {given.total.p80:>7.1f} "
            f"{given.taken:>7.1f} {_ratio(given.taken, given.total.p50):>7}"
        )
    over = [row for row in given.steps if row.taken is not None and row.taken > row.p90]
    lines += ["", fill(_said(given, over), WIDTH)]
    return "\n".join([*lines, *note_lines(given.notes)]) + "\n"


def _line(name: str, inside: float, below: float, error: float | None) -> str:
    last = "" if error is None else f"{error:.1%}"
    return f"{name:<28} {inside:>9.1%} {below:>10.1%} {last:>20}".rstrip()


def _against_row(row: StepAgainst) -> str:
    head = f"{cut(row.title):<{TITLE}} {row.p50:>7.1f} {row.p80:>7.1f}"
    if row.taken is None:
        return f"{head} {'-':>7}"
    mark = "  over P90" if row.taken > row.p90 else ""
    return f"{head} {row.taken:>7.1f} {_ratio(row.taken, row.p50):>7}{mark}"


def _ratio(taken: float, quoted: float) -> str:
    return f"{(taken / quoted - 1) * 100:+.0f}%" if quoted else ""


def _said(given: Against, over: list[StepAgainst]) -> str:
    untimed = sum(row.taken is None for row in given.steps)
    text = (
        f"{len(over)} of {len(given.steps) - untimed} timed steps ran over their P90; about 1 in "
        "10 is to be expected. The session counts in the next quote as soon as it is among the "
        "past sessions given."
    )
    if untimed:
        text = f"{untimed} steps were not timed. " + text
    return text
