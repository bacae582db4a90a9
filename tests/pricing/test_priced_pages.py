"""What is printed of a priced quote."""

import csv
import io
import json
from decimal import Decimal
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest
from msgspec.structs import replace
from pricing_help import DAY, OUTLINE, PRICES, small_quote, terms

from benchvoice.errors import BadInput
from benchvoice.pricing import (
    Needed,
    PricedQuote,
    chart_svg,
    load_priced,
    price_quote,
    priced_csv,
    priced_html,
    priced_text,
    priced_to_json,
    revise,
    supplement_html,
    supplement_text,
)

NASTY = "=HYPERLINK(\"x\") <script>alert('x')</script>"


def priced() -> PricedQuote:
    needed = [
        Needed(part="seal", count=2, place="pump cover", why=NASTY, clip="clips/0004.flac"),
        Needed(part=NASTY, count=1),
    ]
    return price_quote(
        small_quote(), OUTLINE, terms(), on=DAY, needed=needed, prices=PRICES, job="7"
    )


@pytest.mark.parametrize("amount", ["NaN", "sNaN", "Infinity", "1E+9999"])
@pytest.mark.parametrize(
    "field", ["rate", "total", "labour_total", "to_minimum", "parts_total", "each"]
)
def test_a_kept_quote_with_what_is_no_money_is_refused(
    tmp_path: Path, field: str, amount: str
) -> None:
    """Python's decimals have all of these (General Decimal Arithmetic, "Special values")."""
    path = tmp_path / "quote.json"
    kept = priced_to_json(priced())
    (kept["parts"][0] if field == "each" else kept)[field] = amount
    path.write_text(json.dumps(kept))
    with pytest.raises(BadInput, match="is no amount of money"):
        load_priced(path)


class Cells(HTMLParser):
    """The text of a page, and the names of its elements."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.text = ""
        self.tags: set[str] = set()
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.tags.add(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


def test_text_is_of_80_columns_and_has_the_total() -> None:
    text = priced_text(priced())
    assert max(map(len, text.splitlines())) <= 80
    assert any(line.startswith("TOTAL ") and "144.00" in line for line in text.splitlines())
    assert "8 of 10 such jobs stay within: 2:00 h" in text
    supplement = revise(priced(), [], terms(), on=DAY)
    assert max(map(len, supplement_text(supplement).splitlines())) <= 80
    assert "To be agreed before work goes on." in supplement_text(supplement)


def test_the_total_tells_beside_it_how_many_lines_it_is_without() -> None:
    """Whoever reads only the total must not take it for the whole (no source)."""
    without = "without 1 line to be priced"
    total = next(line for line in priced_text(priced()).splitlines() if line.startswith("TOTAL"))
    assert total.split() == ["TOTAL", *without.split(), "144.00"]
    assert f"TOTAL EUR {without}" in Cells(priced_html(priced())).text
    assert [*csv.reader(io.StringIO(priced_csv(priced())))][-1][-1] == without
    whole = price_quote(small_quote(), OUTLINE, terms(), on=DAY)
    assert "without" not in priced_text(whole) + priced_csv(whole)


def test_what_was_said_cannot_become_markup() -> None:
    for page in (
        priced_html(priced()),
        supplement_html(revise(priced(), [Needed(part="gear", why=NASTY)], terms(), on=DAY)),
    ):
        read = Cells(page)
        assert "script" not in read.tags
        assert NASTY in read.text


def test_what_is_not_decided_on_stands_on_the_supplement() -> None:
    """Whoever agrees to the difference has to know what may still change it (no source)."""
    found = replace(revise(priced(), [], terms(), on=DAY), undecided=("spool: scored", NASTY))
    assert "Found and not decided on yet: not in the difference.\n  - spool: scored" in (
        supplement_text(found)
    )
    page = Cells(supplement_html(found))
    assert "spool: scored" in page.text
    assert NASTY in page.text
    assert "script" not in page.tags
    plain = revise(priced(), [], terms(), on=DAY)
    assert "not decided" not in supplement_text(plain) + supplement_html(plain)


def test_csv_reads_back_and_starts_no_formula() -> None:
    rows = list(csv.DictReader(io.StringIO(priced_csv(priced()))))
    assert rows[-1]["group"] == "total"
    lines = [Decimal(row["money"]) for row in rows[:-1] if row["money"]]
    assert sum(lines) == Decimal(rows[-1]["money"])
    assert all(cell[:1] not in tuple("=+-@\t\r") for row in rows for cell in row.values() if cell)


def test_a_kept_quote_comes_back_to_the_cent(tmp_path: Path) -> None:
    path = tmp_path / "quote.json"
    path.write_text(json.dumps(priced_to_json(priced())))
    assert load_priced(path) == priced()


def test_the_chart_is_svg_and_the_same_each_time() -> None:
    pytest.importorskip("matplotlib")
    svg = chart_svg(small_quote())
    assert svg is not None
    assert svg == chart_svg(small_quote())
    root = ElementTree.fromstring(svg)
    texts = {
        "".join(element.itertext()).strip() for element in root.iter() if "text" in element.tag
    }
    assert {"x", "y", "z"} <= texts
    assert svg in priced_html(priced(), svg)
