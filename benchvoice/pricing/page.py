"""A priced quote and a supplement as one printable HTML page each (Jinja2)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchvoice.pricing.supplement import Supplement
from benchvoice.pricing.values import PricedQuote, described
from benchvoice.pricing.words import (
    INVENTED,
    about,
    lacking_text,
    level_text,
    money_text,
    percent_range,
    stands_text,
    why_text,
)
from benchvoice.quoting.text import hours_minutes
from benchvoice.sheets.layout import counted
from benchvoice.sheets.render.pages import page_environment

if TYPE_CHECKING:
    from jinja2 import Environment


def priced_html(quote: PricedQuote, chart: str | None = None) -> str:
    """Give the quote as a page that needs no other file; `chart` is SVG of our own drawing."""
    from markupsafe import Markup

    return (
        _environment()
        .get_template("quote.html")
        .render(quote=quote, chart=None if chart is None else Markup(chart))
    )


def supplement_html(supplement: Supplement) -> str:
    """Give the supplement as a page that needs no other file, with a line to sign."""
    return _environment().get_template("supplement.html").render(supplement=supplement)


def _environment() -> Environment:
    environment = page_environment("benchvoice.pricing", "pages")
    environment.filters |= {
        "money": money_text,
        "hours": lambda minutes: hours_minutes(float(minutes)),
        "described": described,
        "level": level_text,
        "of_ten": percent_range,
        "stands": stands_text,
        "about": about,
        "lacking": lacking_text,
    }
    environment.globals |= {"why": why_text, "counted": counted, "INVENTED": INVENTED}
    return environment
