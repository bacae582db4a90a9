"""What a priced quote says in plain words, the same on paper and on screen."""

from __future__ import annotations

from decimal import Decimal

from benchvoice.pricing.terms import Level
from benchvoice.pricing.values import PricedQuote
from benchvoice.sheets.layout import counted

INVENTED = "Invented demo data: no real unit, price or customer."
_OF_TEN = {"p50": "5 of 10", "p80": "8 of 10", "p90": "9 of 10"}


def level_text(level: Level) -> str:
    """Say a level as the time it is."""
    return f"the time that {_OF_TEN[level]} such jobs stay within"


def percent_range(level: Level) -> str:
    """Say how many of ten jobs a level covers."""
    return f"{_OF_TEN[level]} such jobs stay within"


def about(quote: PricedQuote) -> str:
    """Say which unit and job a quote is for; empty when neither is known."""
    pieces = (quote.unit and f"unit {quote.unit}", quote.job and f"job {quote.job}")
    return ", ".join(piece for piece in pieces if piece)


def money_text(money: Decimal | None) -> str:
    """Say an amount; None is what has no price yet."""
    return "to be priced" if money is None else str(money)


def lacking_text(quote: PricedQuote) -> str:
    """Say beside the total what it is without; empty when every line is priced."""
    lines = counted(quote.unpriced, "line")
    return f"without {lines} to be priced" if quote.unpriced else ""


def stands_text(quote: PricedQuote) -> str:
    """Say what the total stands on and what the range leaves out."""
    return (
        f"The total above is for {level_text(quote.stands_on)}. The range is that of the labour, "
        "with the parts as listed; what the opened unit shows may change both, and is put to you "
        "as a supplement before work goes on."
    )


def why_text(why: str, entry: int | None, clip: str | None) -> str:
    """Say why, and where in the session it stands."""
    where = ", ".join(
        piece for piece in ("" if entry is None else f"entry {entry}", clip or "") if piece
    )
    return f"{why} ({where})" if why and where else why or where
