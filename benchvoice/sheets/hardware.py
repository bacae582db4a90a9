"""The hardware sheet: what was expected, came off, was found and went back in, place by place."""

from __future__ import annotations

from benchvoice.remark import Frozen
from benchvoice.sheets.containers import Kept
from benchvoice.sheets.head import SheetHead


class HardwareRow(Frozen, frozen=True, kw_only=True):
    """One part at a place; numbers are None where nothing was said.

    `expected` is the outline's, `off` came off, `found` was found of it when
    it was looked at, `back` went back in.  `odd` says in words what does not
    add up.
    """

    part: str
    size: tuple[str, ...] = ()
    expected: int | None = None
    off: int | None = None
    found: int | None = None
    back: int | None = None
    containers: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()


class HardwarePlace(Frozen, frozen=True, kw_only=True):
    """The parts of one place, or of one step where no place was named."""

    place: str
    steps: tuple[str, ...] = ()
    rows: tuple[HardwareRow, ...] = ()


class HardwareSheet(Frozen, frozen=True, kw_only=True):
    """Parts by place in the outline's order, and containers with what lies in them."""

    head: SheetHead
    places: tuple[HardwarePlace, ...] = ()
    containers: tuple[Kept, ...] = ()

    @property
    def odd(self) -> tuple[str, ...]:
        """All that does not add up, each with its place."""
        return tuple(
            f"{place.place}: {text}"
            for place in self.places
            for row in place.rows
            for text in row.odd
        )
