"""A priced quote as JSON and CSV, and read back from its JSON."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import msgspec

from benchvoice.errors import BadInput
from benchvoice.pricing.supplement import Supplement
from benchvoice.pricing.values import PricedQuote, described
from benchvoice.pricing.words import lacking_text, why_text
from benchvoice.sheets.render.csv import safe_cell

SCHEMA = 1
_MOST = Decimal(10) ** 12
COLUMNS = ("group", "what", "quantity", "unit", "each", "money", "why")


def priced_to_json(quote: PricedQuote) -> dict[str, Any]:
    """Give the quote as a JSON object; money and minutes are strings, so that no cent is lost."""
    fields: dict[str, Any] = msgspec.to_builtins(quote)
    return {"schema": SCHEMA, **fields}


def supplement_to_json(supplement: Supplement) -> dict[str, Any]:
    """Give the supplement as a JSON object; money is strings."""
    fields: dict[str, Any] = msgspec.to_builtins(supplement)
    return {"schema": SCHEMA, **fields, "difference": str(supplement.difference)}


def load_priced(path: Path) -> PricedQuote:
    """Read a quote that was kept as JSON.  Raises BadInput."""
    mend = "give a file that `benchvoice quote --format json` wrote"
    try:
        fields = msgspec.json.decode(path.read_bytes())
        if not isinstance(fields, dict) or fields.pop("schema", None) != SCHEMA:
            raise BadInput("is no quote of this version", mend=mend, file=path)
        quote = msgspec.convert(fields, PricedQuote)
    except OSError as error:
        raise BadInput.unreadable(path, error) from None
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise BadInput(f"is no quote ({error})", mend=mend, file=path) from None
    money = (quote.rate, quote.total, quote.labour_total, quote.to_minimum, quote.parts_total)
    lines = (one for line in quote.parts for one in (line.each, line.money) if one is not None)
    for amount in (*money, *lines):
        if not (amount.is_finite() and abs(amount) < _MOST):
            raise BadInput(f"is no quote ({amount} is no amount of money)", mend=mend, file=path)
    return quote


def priced_csv(quote: PricedQuote) -> str:
    """Give the quote as CSV (RFC 4180), a row a line of it, the total last."""
    file = io.StringIO()
    writer = csv.writer(file)
    writer.writerow(COLUMNS)
    for row in _rows(quote):
        writer.writerow([safe_cell(cell) for cell in row])
    return file.getvalue()


def _rows(quote: PricedQuote) -> Iterator[tuple[str, ...]]:
    for line in quote.labour:
        yield ("labour", line.title, str(line.minutes), "min", "", str(line.money), "")
    if quote.to_minimum:
        yield ("labour", "to the minimum charge", "", "", "", str(quote.to_minimum), "")
    for part in quote.parts:
        needed = part.needed
        why = why_text(needed.why, needed.entry, needed.clip)
        each, money = (_text(value) for value in (part.each, part.money))
        yield ("part", described(needed), str(part.count), "piece", each, money, why)
    for item in quote.allowances:
        yield ("allowance", item.title, "", "", "", str(item.money), item.how)
    for item in quote.taxes:
        yield ("tax", item.title, "", "", "", str(item.money), item.how)
    yield ("total", quote.title, "", "", "", str(quote.total), lacking_text(quote))


def _text(value: Decimal | None) -> str:
    return "" if value is None else str(value)
