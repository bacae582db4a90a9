"""The reassembly sheet: what came apart goes back, with what was said of it."""

from __future__ import annotations

from benchvoice.remark import Frozen
from benchvoice.sheets.head import SheetHead


class Fit(Frozen, frozen=True, kw_only=True):
    """One thing that goes back in; a box to tick.

    `stack` are the pieces in the order that they go in, first to last.
    `renewed` tells what is fitted instead of the old one ("NEW, the old one
    was torn"), `look` what is to be looked at first.  `entries` are the seqs of
    the remarks that say so, `clips` what was recorded of them.
    """

    what: str
    container: str | None = None
    orientation: str | None = None
    stack: tuple[str, ...] = ()
    mark: str | None = None
    lengths: tuple[str, ...] = ()
    together: str | None = None
    renewed: str | None = None
    look: tuple[str, ...] = ()
    entries: tuple[int, ...] = ()
    clips: tuple[str, ...] = ()


class Reading(Frozen, frozen=True, kw_only=True):
    """A value to be measured and written down; `limit` and `source` as the outline has them.

    `unit` is empty for a check without a reading ("turns freely").
    """

    quantity: str
    unit: str = ""
    part: str | None = None
    limit: str | None = None
    source: str | None = None


class ReassemblyStep(Frozen, frozen=True, kw_only=True):
    """One step of putting together, with what is to be heeded before it.

    `undoes` names the steps of the teardown that it undoes.
    """

    title: str
    undoes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    fits: tuple[Fit, ...] = ()
    readings: tuple[Reading, ...] = ()


class ReassemblySheet(Frozen, frozen=True, kw_only=True):
    """The steps in the order of putting together; `before` is to be settled before starting."""

    head: SheetHead
    before: tuple[str, ...] = ()
    steps: tuple[ReassemblyStep, ...] = ()
