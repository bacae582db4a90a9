"""Work that findings bring, by what such findings added in past sessions."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from benchvoice.pricing.supplement import AddedLabour
from benchvoice.quoting.quote import Adder, published
from benchvoice.session.conditions import conditions_found
from benchvoice.session.values import Entry, Session

_TENTH = Decimal("0.1")


def labour_found(session: Session, adders: Iterable[Adder]) -> tuple[AddedLabour, ...]:
    """Give the labour that the session's findings bring beyond what the quote allowed for.

    The quote has each condition in it as often as it was found before, so what
    it adds now is the rest: `minutes * (1 - found / timed)`, to a tenth of a minute.
    Each condition counts once for a step.
    """
    known = {(adder.step, adder.condition): adder for adder in adders if adder.minutes > 0}
    seen: dict[tuple[str, str], AddedLabour] = {}
    for step, condition, entry in conditions_found(session):
        adder = known.get((step, condition))
        if adder is not None and (step, condition) not in seen:
            seen[step, condition] = _added(adder, entry)
    return tuple(one for one in seen.values() if one.minutes > 0)


def _added(adder: Adder, entry: Entry) -> AddedLabour:
    often = adder.found / adder.timed if adder.timed else 0.0
    minutes = published(adder.minutes * (1 - often), _TENTH)
    return AddedLabour(
        title=f"{adder.title}: {adder.condition}",
        minutes=minutes,
        why=(
            f"added {adder.minutes:.0f} min ({adder.low:.0f} to {adder.high:.0f}) in past "
            f"sessions, found in {adder.found} of {adder.timed}; less what the quote allowed for it"
        ),
        entry=entry.seq,
        clip=entry.clip,
    )
