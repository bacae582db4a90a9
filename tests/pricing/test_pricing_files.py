"""Terms and price lists as files."""

from decimal import Decimal
from pathlib import Path

import pytest

from benchvoice.errors import BadInput
from benchvoice.pricing import load_priced, load_prices, load_terms

TERMS = """\
shop = "Ours"
currency = "EUR"
rate = 95.50
minimum = 250

[[allowance]]
title = "Freight"
amount = 45

[[tax]]
title = "Sales tax"
percent = 8.25
of = ["parts"]
"""


def write(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_terms_are_exact_decimals(tmp_path: Path) -> None:
    terms = load_terms(write(tmp_path, "terms.toml", TERMS))
    assert terms.rate == Decimal("95.5")
    assert terms.tax[0].percent == Decimal("8.25")
    assert terms.stands_on == "p80"


@pytest.mark.parametrize(
    ("old", "new", "line", "says"),
    [
        ("rate = 95.50", "rate = 0", 3, "hourly rate 0 cannot be used"),
        ("minimum = 250", "minimum = -1", 4, "minimum -1"),
        ("amount = 45", "", 7, "needs an amount or a percent"),
        ("percent = 8.25", "percent = 825", 12, "tax 'Sales tax' of 825 percent"),
        ("percent = 8.25", 'percent = "much"', 12, ""),
        ('shop = "Ours"', 'shopp = "Ours"', 1, "shopp"),
    ],
)
def test_a_mistake_in_terms_is_named_by_line(
    tmp_path: Path, old: str, new: str, line: int, says: str
) -> None:
    path = write(tmp_path, "terms.toml", TERMS.replace(old, new))
    with pytest.raises(BadInput) as caught:
        load_terms(path)
    assert f"{path}:{line}:" in str(caught.value)
    assert says in str(caught.value)


def test_a_price_list_with_semicolons_and_a_byte_order_mark(tmp_path: Path) -> None:
    """As spreadsheets in many countries write it (common practice, no source)."""
    path = write(tmp_path, "p.csv", "\ufeffPart;Price;Place\nO ring;1.20;\n\nO ring;2;Pump cover\n")
    prices = load_prices(path)
    assert prices.find("o ring", place="pump cover") == Decimal(2)
    assert prices.find("o ring") == Decimal("1.20")


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        ("part,cost\nseal,1\n", ":1:", "has no column 'price'"),
        ("part,price\nseal,1\nseal,2\n", ":3:", "has a price already, on line 2"),
        ("part,price\nseal,cheap\n", ":2:", "'cheap' is no price"),
        ("part,price\nseal,-1\n", ":2:", "'-1' is no price"),
        ("part,price\nseal,NaN\n", ":2:", "'NaN' is no price"),
        ("part,price\n,4\n", ":2:", "a row has no part"),
        ("x" * 200_000, ":1:", "is no CSV (field larger than"),
    ],
)
def test_a_mistake_in_a_price_list_is_named_by_line(
    tmp_path: Path, text: str, where: str, says: str
) -> None:
    with pytest.raises(BadInput) as caught:
        load_prices(write(tmp_path, "p.csv", text))
    assert where in str(caught.value)
    assert says in str(caught.value)


@pytest.mark.parametrize(
    "text", ["", "[]", '{"schema": 2}', '{"schema": 1, "outline": 4}', "\xff", "[" * 100_000]
)
def test_what_is_no_kept_quote_is_refused(tmp_path: Path, text: str) -> None:
    with pytest.raises(BadInput):
        load_priced(write(tmp_path, "q.json", text))


def test_lists_within_lists_without_end_are_a_mistake(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="too many lists within lists; close each"):
        load_terms(write(tmp_path, "terms.toml", f"rate = {'[' * 20_000}"))
