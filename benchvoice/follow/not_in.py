"""Whether a part that is named is said to be in, and when that is not known."""

from __future__ import annotations

from benchvoice.follow.ledger import goes_in, is_count
from benchvoice.remark import Remark

_DENIED = frozenset(
    "not yet still forgot forgotten forget waiting wait without cannot need needs lost never "
    "except awaiting nothing".split()
)
"""Words with which nothing is said to be in, or not all of it."""
_IN = frozenset("in on into onto back home fitted seated goes".split())
"""Words with which something goes in."""

NOT_IN = "Not taken as gone in: say it again when it is."
WHICH_WAY = 'Not counted: is it "back in", or in what? Say it again.'


def not_said_in(remark: Remark) -> bool:
    """Whether a remark names a part barely, in words that do not say that it went in.

    "Gasket" or "ten bolts" alone goes in; "gasket not in yet", "waiting for the gasket" and
    "gasket ready" do not, or may not: what is taken as in and is not is left out of the unit.
    """
    if not any(map(goes_in, remark.findings)):
        return False
    words = set(remark.heard.lower().replace(",", " ").split())
    denied = not words.isdisjoint(_DENIED) or any(word.endswith("n't") for word in words)
    return denied or (bool(remark.unparsed) and words.isdisjoint(_IN))


def which_way(remark: Remark) -> bool:
    """Whether a remark breaks off at an "in", while taking apart: "five bolts in".

    It is of what goes back, or the tray was not heard; as a number alone it counted as off.
    """
    return remark.heard.lower().endswith(" in") and any(map(is_count, remark.findings[-1:]))
