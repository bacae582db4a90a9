"""Small quotes to price, without fitting a model."""

from datetime import date
from decimal import Decimal

from benchvoice.grammar.outline import Outline, Stage, Step
from benchvoice.pricing import PriceList, Terms
from benchvoice.pricing.price_list import ListPrice
from benchvoice.quoting import Quote, Range, StepQuote

DAY = date(2026, 3, 2)
OUTLINE = Outline(
    name="pump",
    title="Gear pump",
    unit="pump",
    stage=(
        Stage(
            id="a",
            title="Strip",
            kind="strip",
            step=(Step(id="x", title="Cover off"), Step(id="y", title="Gears out")),
        ),
        Stage(id="b", title="Assemble", kind="assemble", step=(Step(id="z", title="Back in"),)),
        Stage(id="c", title="Nothing", kind="test"),
    ),
)
PRICES = PriceList(
    (
        ListPrice(part="seal", price=Decimal("10.05")),
        ListPrice(part="seal", price=Decimal("12.00"), place="pump cover"),
        ListPrice(part="seal", price=Decimal("15.00"), place="pump cover", size="30 mm"),
        ListPrice(part="shaft", price=Decimal("80"), work="machine"),
    )
)


def rounds(p50: float, p80: float, p90: float) -> Range:
    return Range(p10=p50 / 2, p50=p50, p80=p80, p90=p90)


def small_quote(p50: float = 90, p80: float = 120, p90: float = 150) -> Quote:
    steps = tuple(
        StepQuote(id=name, title=name, n=3, range=rounds(at, at * 1.5, at * 2), basis="timed")
        for name, at in (("x", 20.0), ("y", 30.0), ("z", 40.0))
    )
    total = rounds(p50, p80, p90)
    return Quote(outline="pump", title="Gear pump", sessions=3, steps=steps, total=total)


def terms(**changed: object) -> Terms:
    return Terms(**{"rate": Decimal(60), "currency": "EUR", **changed})
