"""A quote priced or revised and put out, for `benchvoice quote`."""

from __future__ import annotations

import json
from argparse import Namespace
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from benchvoice.cli import options
from benchvoice.cli.output import format_of, put_out
from benchvoice.errors import BadInput
from benchvoice.grammar import Outline, Pack, load_pack
from benchvoice.pricing import (
    PriceList,
    Terms,
    chart_svg,
    labour_found,
    load_priced,
    load_prices,
    load_terms,
    needs,
    price_quote,
    priced_csv,
    priced_html,
    priced_text,
    priced_to_json,
    revise,
    supplement_html,
    supplement_text,
    supplement_to_json,
)
from benchvoice.quoting import Quote
from benchvoice.session import Session, placed, read_session
from benchvoice.sheets.book import book_of
from benchvoice.sheets.parts_sheet import undecided_texts


def priced(args: Namespace, quote: Quote, outline: Outline) -> None:
    """Price the quote and put it out."""
    terms, prices = _terms(args), _prices(args)
    session = None if args.parts is None else _seen_again(args.parts, outline)[0]
    header = None if session is None else session.header
    given = price_quote(
        quote,
        outline,
        terms,
        on=args.on or date.today(),
        needed=needs(outline, session),
        prices=prices,
        job=(header.job if header else None) or "",
        unit=(header.serial or header.unit if header else None) or "",
    )
    texts = {
        "text": lambda: priced_text(given),
        "html": lambda: priced_html(given, chart_svg(quote)),
        "csv": lambda: priced_csv(given),
        "json": lambda: json.dumps(priced_to_json(given), indent=1) + "\n",
    }
    put_out(texts[_format(args)](), args.out)


def _seen_again(folder: Path, outline: Outline) -> tuple[Session, Pack]:
    pack = load_pack(outline, options.own_words())
    return placed(read_session(folder), outline, pack), pack


def supplement(args: Namespace, quote: Quote, outline: Outline) -> None:
    """Revise a kept quote by a teardown; `quote` has what findings added in past sessions."""
    if args.parts is None:
        raise BadInput("--revise needs the teardown", mend="give --parts SESSION")
    if _format(args) == "csv":
        raise BadInput("a supplement has no CSV", mend="take text, html or json")
    session, pack = _seen_again(args.parts, outline)
    found = revise(
        load_priced(args.revise),
        needs(outline, session),
        _terms(args),
        on=args.on or date.today(),
        prices=_prices(args),
        labour=labour_found(session, quote.adders),
    )
    found = replace(found, undecided=undecided_texts(book_of(session, pack)))
    texts = {
        "text": lambda: supplement_text(found),
        "html": lambda: supplement_html(found),
        "json": lambda: json.dumps(supplement_to_json(found), indent=1) + "\n",
    }
    put_out(texts[_format(args)](), args.out)


def _format(args: Namespace) -> str:
    return "json" if args.json else format_of(args.format, args.out)


def _terms(args: Namespace) -> Terms:
    if args.terms is not None:
        terms = load_terms(args.terms)
        return terms if args.rate is None else replace(terms, rate=args.rate)
    if args.rate is not None:
        return Terms(rate=args.rate)
    raise BadInput("a priced quote needs a rate", mend="give --rate, or --terms FILE")


def _prices(args: Namespace) -> PriceList | None:
    return None if args.prices is None else load_prices(args.prices)
