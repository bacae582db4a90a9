"""Money in a priced quote."""

import random
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from pricing_help import DAY, OUTLINE, PRICES, small_quote, terms

from benchvoice.errors import BadInput
from benchvoice.pricing import Needed, price_quote
from benchvoice.pricing.price import bill
from benchvoice.pricing.terms import Allowance, Tax

NEEDED = (
    Needed(part="seal", count=2, place="pump cover", why="torn", entry=4, clip="clips/0004.flac"),
    Needed(part="seal", count=None, why="hard"),
    Needed(part="shaft", count=1, work="machine"),
    Needed(part="gear", count=1, work="order"),
)
ALLOWANCES = (
    Allowance(title="Rags", percent=Decimal("3.5"), of=("labour",)),
    Allowance(title="Freight", amount=Decimal(45)),
)


def test_a_whole_quote_by_hand() -> None:
    """Reckoned on paper: 120 min at 60 is 120.00; parts 24.00 + 10.05 + 80.00."""
    given = price_quote(
        small_quote(),
        OUTLINE,
        terms(allowance=ALLOWANCES, tax=(Tax(title="Tax", percent=Decimal("8.25")),)),
        on=DAY,
        needed=NEEDED,
        prices=PRICES,
    )
    assert given.labour_total == Decimal("120.00")
    assert [line.money for line in given.parts] == [
        Decimal("24.00"),
        Decimal("10.05"),
        Decimal("80.00"),
        None,
    ]
    assert given.parts_total == Decimal("114.05")
    assert [item.money for item in given.allowances] == [Decimal("4.20"), Decimal("45.00")]
    assert given.before_tax == Decimal("283.25")
    assert given.taxes[0].money == Decimal("23.37")  # 23.368...
    assert given.total == Decimal("306.62")
    assert [line.needed.part for line in given.parts if line.money is None] == ["gear"]
    assert "1 part or work has no price yet" in given.exclusions[0]
    assert any("1 part was named without a number" in text for text in given.assumptions)


def test_the_range_has_the_total_at_the_level_it_stands_on() -> None:
    for level in ("p50", "p80", "p90"):
        given = price_quote(
            small_quote(), OUTLINE, terms(stands_on=level), on=DAY, needed=NEEDED, prices=PRICES
        )
        money = {outcome.level: outcome.money for outcome in given.range}
        assert given.total == money[level]
        assert money["p50"] < money["p80"] < money["p90"]


def test_stage_lines_add_up_to_the_labour_whatever_the_numbers() -> None:
    """The largest remainder (Hamilton) method keeps quota: each share is its exact part rounded
    down or up (M. L. Balinski, H. P. Young, Fair Representation, 1982, from memory)."""
    chance = random.Random(4)
    for _ in range(300):
        quote = small_quote(90, p80=chance.uniform(0.5, 3000), p90=4000)
        rate = Decimal(chance.randrange(1, 30000)) / 100
        given = price_quote(quote, OUTLINE, terms(rate=rate), on=DAY)
        assert sum(line.money for line in given.labour) == given.labour_total
        minutes = given.range[1].minutes
        assert sum(line.minutes for line in given.labour) == minutes
        for line, weight in zip(given.labour, (50, 40), strict=True):
            exact = Fraction(minutes) * weight / 90
            assert abs(Fraction(line.minutes) - exact) < Fraction(1, 100)


def test_the_minimum_is_charged_and_shown() -> None:
    given = price_quote(small_quote(), OUTLINE, terms(minimum=Decimal(200)), on=DAY)
    assert (given.labour_total, given.to_minimum) == (Decimal(200), Decimal(80))
    assert given.total == Decimal(200)
    assert [outcome.money for outcome in given.range] == [Decimal(200)] * 3


def test_rounding_is_half_up_as_python_decimal_has_it() -> None:
    """Against decimal's own ROUND_HALF_UP on tenths of cents."""
    for mills in range(0, 1000, 5):
        amount = Decimal(mills) / 1000
        tax = Tax(title="t", percent=Decimal(100))
        got = bill(amount, Decimal(0), terms(tax=(tax,))).taxes[0].money
        assert got == amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


def test_the_row_that_says_most_gives_the_price() -> None:
    find = PRICES.find
    assert find("seal") == Decimal("10.05")
    assert find("Seal", place="pump  cover") == Decimal(12)
    assert find("seal", place="pump cover", size="30 mm") == Decimal(15)
    assert find("seal", place="pump cover", size="25 mm") == Decimal(12)
    assert find("shaft") is None
    assert find("shaft", work="machine") == Decimal(80)


def test_validity_and_taxes_on_parts_alone() -> None:
    tax = Tax(title="Tax", percent=Decimal(10), of=("parts",))
    given = price_quote(
        small_quote(),
        OUTLINE,
        terms(tax=(tax,), valid_days=14, parts_markup=Decimal(15)),
        on=DAY,
        needed=NEEDED[:1],
        prices=PRICES,
    )
    assert given.valid_until.isoformat() == "2026-03-16"
    assert given.parts[0].each == Decimal("13.80")
    assert given.taxes[0].money == Decimal("2.76")


def test_the_last_day_that_there_is_is_too_late() -> None:
    with pytest.raises(BadInput, match="no quote can be given on 9999-12-31"):
        price_quote(small_quote(), OUTLINE, terms(), on=date.max)


def test_terms_that_cannot_be_charged_by_are_refused() -> None:
    with pytest.raises(BadInput, match="hourly rate 0"):
        price_quote(small_quote(), OUTLINE, terms(rate=Decimal(0)), on=DAY)
