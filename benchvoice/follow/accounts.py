"""All that is made of what was said of a job, carried on from one remark to the next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from benchvoice.follow.counts import Count, Said
from benchvoice.follow.events import LogEntry, standing
from benchvoice.follow.ledger import Book, book_of
from benchvoice.follow.ledger_values import Ledger
from benchvoice.follow.likeness import part_likeness
from benchvoice.follow.readings import (
    Checked,
    Reading,
    checks_after,
    readings_after,
    unchecked,
    unread,
)
from benchvoice.follow.reassembly import BackStep, reassembly
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.vocabulary import Unit
from benchvoice.remark import Finding

NO_OUTLINE = Outline(name="", title="", unit="", stage=())
"""What stands for the outline where there is none."""


@dataclass(frozen=True, eq=False)
class Accounts:
    """What was said, summed up; `after` gives what it is when more was said.

    `decided` has (step id, part) of all that it was said of what shall happen to it.
    """

    outline: Outline
    units: tuple[Unit, ...]
    book: Book
    readings: tuple[Reading, ...]
    checks: tuple[Checked, ...]
    decided: frozenset[tuple[str | None, str | None]] = frozenset()

    @property
    def counts(self) -> tuple[Count, ...]:
        """What was counted against what the outline expects."""
        return self.book.tally.counts

    @property
    def ledger(self) -> Ledger:
        """The hardware ledger."""
        return self.book.ledger

    @property
    def due(self) -> tuple[Reading, ...]:
        """The readings without those of what was not taken apart, and is not put together."""
        apart = (None, *self.ledger.stripped)
        return tuple(one for one in self.readings if one.measured or one.home in apart)

    @cached_property
    def back(self) -> tuple[BackStep, ...]:
        """The steps of putting together."""
        return reassembly(self.ledger, self.outline)

    def after(self, said: Said) -> Accounts | None:
        """Take in what was said next; None when all has to be taken in anew (see `Book.after`)."""
        groups = [(step, tuple(findings)) for step, findings in said]
        if not groups:
            return self
        book = self.book.after(groups)
        return None if book is None else self._with(book, groups)

    def _with(self, book: Book, said: Sequence[tuple[str | None, Sequence[Finding]]]) -> Accounts:
        units = {unit.name: unit for unit in self.units}
        readings = readings_after(self.readings, said, self.outline, units)
        decided = set(self.decided)
        for step, findings in said:
            for finding in findings:
                out = next((one for one in readings if one.is_out_by(finding)), None)
                if out is not None and _is_of_some(finding.part, book.ledger):
                    decided = {one for one in decided if not out.is_of(*one)}
                if finding.disposition not in (None, "decide"):
                    decided.add((step, finding.part))
        return Accounts(
            self.outline,
            self.units,
            book,
            readings,
            checks_after(self.checks, said),
            frozenset(decided),
        )


def _is_of_some(part: str | None, ledger: Ledger) -> bool:
    """Whether what was decided on a part was of some: "two burnt, replace" was of those two."""
    alike = (line for line in ledger.lines if part_likeness(part, line.part) > 0)
    return any(line.some_found for line in alike)


def accounts_of(said: Said, outline: Outline, units: tuple[Unit, ...]) -> Accounts:
    """Take in all that stands of a job, from the beginning."""
    groups = [(step, tuple(findings)) for step, findings in said]
    book = book_of(groups, outline)
    return Accounts(outline, units, book, unread(outline), unchecked(outline))._with(book, groups)


class _Kept(NamedTuple):
    log: tuple[LogEntry, ...]
    accounts: Accounts


class Recent:
    """The accounts of the logs last asked for, from which those of the next are carried on.

    It only saves time: `of` gives what `accounts_of` gives.  A strike goes back to a log that is
    still kept, or else to the beginning.
    """

    def __init__(self) -> None:
        self._kept: tuple[_Kept, ...] = ()

    def of(self, log: tuple[LogEntry, ...], outline: Outline, units: tuple[Unit, ...]) -> Accounts:
        """Give the accounts of what stands in a log."""
        known = self._longest_start(log, outline, units)
        made = known.accounts.after(standing(log[len(known.log) :])) if known else None
        if made is None:
            made = accounts_of(standing(log), outline, units)
        others = [one for one in self._kept if one is not known or one.log != log]
        self._kept = (_Kept(log, made), *others[: _MOST - 1])
        return made

    def _longest_start(
        self, log: tuple[LogEntry, ...], outline: Outline, units: tuple[Unit, ...]
    ) -> _Kept | None:
        """Find the longest log kept that this one begins with."""
        for one in sorted(self._kept, key=lambda one: -len(one.log)):
            same = one.accounts.outline is outline and one.accounts.units == units
            if same and log[: len(one.log)] == one.log:
                return one
        return None


_MOST = 16
"""So many are kept: more than are made for a remark by the bench and the screen together."""
RECENT = Recent()
"""Its one place; worked on by several threads it at worst makes the same twice."""
