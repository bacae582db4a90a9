"""The arguments of `benchvoice quote`, and which of them go together."""

from __future__ import annotations

import argparse
from argparse import Namespace
from datetime import date
from pathlib import Path

from benchvoice.cli import options
from benchvoice.errors import BadInput

_PRICED = frozenset({"terms", "prices", "parts", "format", "out", "revise"})
"""Any of these asks for a quote to hand over."""
_JOB = frozenset({"who", "half_life", "rate"})
"""These go with whatever is told of a job; a rate is part of the usual line and harms nothing."""
_PAGE = _PRICED | _JOB | {"on", "save", "json"}
_GO_WITH = {
    "explain": _JOB,
    "backtest": {"half_life", "rate", "forward"},
    "against": _JOB | {"saved"},
    "saved": {"against", "rate"},
    "revise": _PAGE - {"save"},
    "format": _PAGE - {"json"},
    **dict.fromkeys(("terms", "prices", "parts", "out"), _PAGE),
}
"""What changes something beside an argument; what is not here goes with all that do not say so."""
_NEEDED = {"forward": {"backtest"}, "saved": {"against"}, "on": _PRICED}
"""What an argument does nothing without, one of them."""


def add_options(parser: argparse.ArgumentParser) -> None:
    """All of them."""
    options.outline(parser, required=True)
    parser.add_argument("session", type=Path, nargs="*", help="past sessions, or folders of them")
    parser.add_argument("--rate", type=options.money, help="price of an hour; wins over --terms")
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
    _add_priced(parser.add_argument_group("a quote to hand over"))


def _add_priced(group: argparse._ArgumentGroup) -> None:
    group.add_argument("--terms", type=Path, help="your terms: rate, minimum, taxes (TOML)")
    group.add_argument("--prices", type=Path, help="your price list (CSV)")
    group.add_argument(
        "--parts", type=Path, metavar="SESSION", help="the teardown whose parts are priced too"
    )
    group.add_argument("--format", choices=options.FORMATS, help="text, or what --out ends in")
    group.add_argument("--out", type=Path, metavar="FILE", help="write it there")
    group.add_argument(
        "--revise", type=Path, metavar="QUOTE", help="a kept quote (json), against --parts"
    )
    group.add_argument("--on", type=_day, help="the day it is given, YYYY-MM-DD; today if none")


def is_priced(args: Namespace) -> bool:
    """Tell whether the arguments ask for a quote to hand over."""
    return not _PRICED.isdisjoint(_given(args))


def check_together(args: Namespace) -> None:
    """Raise BadInput for an argument that would be passed over."""
    given = _given(args)
    for name in filter(given.__contains__, _GO_WITH):
        for other in sorted(given - _GO_WITH[name] - {name}):
            what = f"{_written(other)} does nothing with {_written(name)}"
            raise BadInput(what, mend="leave one of them out")
    for name in filter(given.__contains__, _NEEDED):
        if given.isdisjoint(_NEEDED[name]):
            needed = " or ".join(map(_written, sorted(_NEEDED[name])))
            raise BadInput(f"{_written(name)} does nothing alone", mend=f"give {needed} as well")


def _given(args: Namespace) -> set[str]:
    said = {name for name, value in vars(args).items() if value is not None and value is not False}
    return said - {"command", "run", "outline", "session"}


def _written(name: str) -> str:
    return f"--{name.replace('_', '-')}"


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no day; write 2026-03-02") from None
