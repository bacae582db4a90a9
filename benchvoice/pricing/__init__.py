"""A labour quote priced: the shop's terms, parts, taxes, and the supplement after opening."""

from benchvoice.pricing.chart import chart_svg
from benchvoice.pricing.labour_found import labour_found
from benchvoice.pricing.needs import needs
from benchvoice.pricing.page import priced_html, supplement_html
from benchvoice.pricing.price import price_quote
from benchvoice.pricing.price_list import PriceList, load_prices
from benchvoice.pricing.supplement import AddedLabour, Supplement, revise
from benchvoice.pricing.tables import load_priced, priced_csv, priced_to_json, supplement_to_json
from benchvoice.pricing.terms import Terms, load_terms
from benchvoice.pricing.text import priced_text, supplement_text
from benchvoice.pricing.values import Needed, PricedQuote

__all__ = [
    "AddedLabour",
    "Needed",
    "PriceList",
    "PricedQuote",
    "Supplement",
    "Terms",
    "chart_svg",
    "labour_found",
    "load_priced",
    "load_prices",
    "load_terms",
    "needs",
    "price_quote",
    "priced_csv",
    "priced_html",
    "priced_text",
    "priced_to_json",
    "revise",
    "supplement_html",
    "supplement_text",
    "supplement_to_json",
]
