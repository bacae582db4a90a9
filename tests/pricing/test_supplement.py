"""A quote revised by what the bench found."""

from decimal import Decimal

import pytest
from msgspec.structs import replace
from pricing_help import DAY, OUTLINE, PRICES, small_quote, terms

from benchvoice.errors import BadInput
from benchvoice.pricing import (
    AddedLabour,
    Needed,
    PricedQuote,
    PriceList,
    Terms,
    price_quote,
    revise,
)
from benchvoice.pricing.price_list import ListPrice
from benchvoice.pricing.terms import Tax

TAXED = terms(tax=(Tax(title="Tax", percent=Decimal(10)),))
SEAL = Needed(part="seal", count=2, why="always replaced")


def given(chosen: Terms = TAXED) -> PricedQuote:
    return price_quote(small_quote(), OUTLINE, chosen, on=DAY, needed=[SEAL], prices=PRICES)


def test_nothing_new_changes_nothing() -> None:
    supplement = revise(given(), [SEAL], TAXED, on=DAY, prices=PRICES)
    assert supplement.lines == ()
    assert supplement.difference == 0


def test_a_part_quoted_in_two_lines_is_compared_as_one() -> None:
    two = (Needed(part="seal", count=2, step="Left"), Needed(part="seal", count=3, step="Right"))
    quoted = price_quote(small_quote(), OUTLINE, TAXED, on=DAY, needed=two, prices=PRICES)
    assert revise(quoted, two, TAXED, on=DAY, prices=PRICES).lines == ()
    (line,) = revise(quoted, two[:1], TAXED, on=DAY, prices=PRICES).lines
    assert (line.change, line.money) == ("no longer", Decimal("-30.15"))


def test_what_was_found_is_added_with_its_reason_and_taxed() -> None:
    shaft = Needed(part="shaft", work="machine", why="grooved", entry=9, clip="clips/0009.flac")
    more = Needed(part="seal", count=1, why="torn", entry=7)
    supplement = revise(given(), [SEAL, more, shaft], TAXED, on=DAY, prices=PRICES)
    seal, machined = supplement.lines
    assert (seal.change, seal.money) == ("more", Decimal("10.05"))
    assert (machined.change, machined.money, machined.why) == ("added", Decimal(80), "grooved")
    assert (machined.entry, machined.clip) == (9, "clips/0009.flac")
    # (10.05 + 80.00) and 10% of it, the tax rounded on the whole: (234.15 - 144.10) ...
    assert supplement.difference == Decimal("99.06")


def test_what_is_not_wanted_any_more_is_taken_off() -> None:
    supplement = revise(given(), [], TAXED, on=DAY, prices=PRICES)
    assert [line.change for line in supplement.lines] == ["no longer"]
    assert supplement.lines[0].money == Decimal("-20.10")
    assert supplement.difference < 0


def test_labour_that_findings_bring_is_priced_at_the_rate() -> None:
    extra = AddedLabour(title="seized bolts", minutes=Decimal("35.5"), why="3 seized", entry=2)
    supplement = revise(given(), [SEAL], TAXED, on=DAY, prices=PRICES, labour=[extra])
    assert supplement.lines[0].money == Decimal("35.50")
    assert supplement.difference == Decimal("39.05")


def test_labour_within_the_minimum_costs_nothing_more() -> None:
    chosen = terms(minimum=Decimal(200))
    extra = AddedLabour(title="seized bolts", minutes=Decimal(30), why="seized")
    supplement = revise(given(chosen), [SEAL], chosen, on=DAY, prices=PRICES, labour=[extra])
    assert supplement.difference == 0


def test_what_has_no_price_is_said_and_not_in_the_difference() -> None:
    gear = Needed(part="gear", count=1, work="order", why="pitted")
    supplement = revise(given(), [SEAL, gear], TAXED, on=DAY, prices=PRICES)
    assert supplement.unpriced == 1
    assert supplement.difference == 0


def test_what_was_quoted_keeps_its_price_and_the_lines_explain_the_difference() -> None:
    """Whoever signs the supplement adds its lines up (common practice, no source)."""
    gear = Needed(part="gear", count=2, work="order", why="pitted")
    untaxed = terms()
    quoted = price_quote(
        small_quote(), OUTLINE, untaxed, on=DAY, needed=[SEAL, gear], prices=PRICES
    )
    dearer = PriceList(
        (ListPrice(part="seal", price=Decimal(99)), ListPrice(part="gear", price=Decimal(7)))
    )
    more = replace(SEAL, count=3)
    for prices, found in ((None, [SEAL, gear]), (dearer, [SEAL, gear]), (dearer, [more, gear])):
        supplement = revise(quoted, found, untaxed, on=DAY, prices=prices)
        assert supplement.difference == sum(line.money or 0 for line in supplement.lines)
    assert [(line.what, line.money) for line in supplement.lines] == [
        ("seal: 3, quoted 2", Decimal("10.05")),
        ("2 x gear", Decimal(14)),
    ]
    assert supplement.lines[1].why == "pitted; quoted without a price"


def test_other_terms_than_the_quote_was_given_with_are_refused() -> None:
    with pytest.raises(BadInput, match="given at 60 EUR"):
        revise(given(), [SEAL], terms(rate=Decimal(70)), on=DAY)
    with pytest.raises(BadInput, match=r"comes to 154.11, .* to 140.10;"):
        revise(given(), [SEAL], terms(), on=DAY)


def test_a_part_without_a_number_is_reckoned_as_one_and_says_so() -> None:
    plates = Needed(part="friction plate", why="burnt")
    (line,) = revise(given(), [SEAL, plates], TAXED, on=DAY, prices=PRICES).lines
    assert line.what.startswith("1 x friction plate")
    assert line.why.startswith("burnt; no number was said")
