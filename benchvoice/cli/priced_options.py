"""The arguments of `benchvoice quote` that are about money: terms, parts, pages, supplements."""

from __future__ import annotations

import argparse
from argparse import Namespace
from datetime import date
from pathlib import Path

from benchvoice.cli import options


def add_options(parser: argparse.ArgumentParser) -> None:
    """The options of a priced quote; any of them but the day asks for one."""
    group = parser.add_argument_group("a quote to hand over")
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


def is_asked(args: Namespace) -> bool:
    """Tell whether the arguments ask for a priced quote."""
    asked = (args.terms, args.prices, args.parts, args.format, args.out, args.revise)
    return any(value is not None for value in asked)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no day; write 2026-03-02") from None
