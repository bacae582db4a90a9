"""What the editor shows, as one immutable value; every question about it is a pure method.

As in prompt_toolkit, the document never changes: the controller makes a new
one for each key, and the drawing reads it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from benchvoice.screens.editor.facts import Facts, wants_a_look
from benchvoice.screens.editor.panels import Panel
from benchvoice.session import Entry, Session

CHATTER = frozenset({"asked", "answered", "voice", "struck", "recounted"})
"""Kinds of entries that are no record of the unit; hidden unless asked for."""


@dataclass(frozen=True)
class Sieve:
    """Which entries are listed, and in which order.

    `words` must all be somewhere in an entry; "?" is for those that want a look,
    "!" for those with warnings.  With `doubtful_first` those that
    want a look come before the rest.  `everything` lists questions and answers too.
    """

    words: str = ""
    doubtful_first: bool = False
    everything: bool = False


@dataclass(frozen=True)
class Listing:
    """A session seen through a sieve; made anew only when one of them changes."""

    facts: Facts
    sieve: Sieve = Sieve()

    @property
    def session(self) -> Session:
        """The session."""
        return self.facts.session

    @cached_property
    def rows(self) -> tuple[Entry, ...]:
        """The entries listed, in their order."""
        gone = self.facts.gone.values() if self.sieve.everything else ()
        wanted = [entry for entry in (*self.session.entries, *gone) if self._passes(entry)]
        wanted.sort(key=lambda entry: (entry.sitting, entry.t))
        if self.sieve.doubtful_first:
            wanted.sort(key=lambda entry: not wants_a_look(entry))
        return tuple(wanted)

    @cached_property
    def places(self) -> dict[int, int]:
        """Map seq to row."""
        return {entry.seq: row for row, entry in enumerate(self.rows)}

    def _passes(self, entry: Entry) -> bool:
        if not self.sieve.everything and entry.kind in CHATTER:
            return False
        for word in self.sieve.words.lower().split():
            if word == "?":
                found = wants_a_look(entry)
            elif word == "!":
                found = bool(self.facts.warnings(entry))
            else:
                found = word in self.facts.searched(entry)
            if not found:
                return False
        return True


@dataclass(frozen=True)
class Document:
    """The listing, the cursor's row in it, the marked entries, the panel open, and a message."""

    listing: Listing
    at: int = 0
    marked: frozenset[int] = frozenset()
    panel: Panel | None = None
    message: str = ""
    bad: bool = False
    """Whether the message is of something that did not work."""

    @property
    def rows(self) -> tuple[Entry, ...]:
        """The entries listed."""
        return self.listing.rows

    @property
    def facts(self) -> Facts:
        """What there is to know of the session."""
        return self.listing.facts

    @property
    def sieve(self) -> Sieve:
        """What they were chosen by."""
        return self.listing.sieve

    @property
    def current(self) -> Entry | None:
        """The entry under the cursor; None when none is listed."""
        return self.rows[self.at] if self.at < len(self.rows) else None

    def told(self, message: str, *, bad: bool = False) -> Document:
        """Show a message."""
        return replace(self, message=message, bad=bad)

    def opened(self, panel: Panel | None) -> Document:
        """Open a panel, or close the one that is open."""
        return replace(self, panel=panel, message="", bad=False)

    def at_row(self, row: int) -> Document:
        """Put the cursor on a row, or on the nearest there is."""
        return replace(self, at=max(0, min(row, len(self.rows) - 1)), message="", bad=False)

    def at_entry(self, seq: int) -> Document:
        """Put the cursor on an entry, if it is listed."""
        row = self.listing.places.get(seq)
        return self if row is None else replace(self, at=row)

    def at_next_doubtful(self) -> Document:
        """Put the cursor on the next entry that wants a look, from the top again after the end."""
        count = len(self.rows)
        for ahead in range(1, count + 1):
            row = (self.at + ahead) % count
            if wants_a_look(self.rows[row]):
                return self.at_row(row)
        return self.told("nothing listed wants a look")

    def sifted(self, sieve: Sieve) -> Document:
        """Use another sieve; the cursor stays on its entry when that is still listed."""
        return self._listed(replace(self.listing, sieve=sieve))

    def renewed(self, session: Session, focus: int | None = None) -> Document:
        """Take in a changed session; the cursor goes to `focus`, or stays."""
        done = self._listed(replace(self.listing, facts=replace(self.facts, session=session)))
        if self.sieve.doubtful_first:  # what was put right goes down the list, the next comes up
            done = replace(done, at=min(self.at, max(0, len(done.rows) - 1)))
            focus = focus if focus not in self.facts.by_seq else None
        marked = self.marked & done.facts.by_seq.keys()
        done = replace(done, marked=marked)
        return done if focus is None else done.at_entry(focus)

    def _listed(self, listing: Listing) -> Document:
        here = self.current
        done = replace(self, listing=listing)
        row = listing.places.get(here.seq) if here is not None else None
        last = max(0, len(listing.rows) - 1)
        return replace(done, at=min(self.at, last) if row is None else row)

    def toggled(self) -> Document:
        """Mark the entry under the cursor, or take its mark off, and go down a row."""
        here = self.current
        if here is None:
            return self
        if self.facts.is_gone(here):
            return self.told("it is deleted; r brings it back", bad=True)
        return replace(self.at_row(self.at + 1), marked=self.marked ^ {here.seq})

    def all_toggled(self) -> Document:
        """Mark all that is listed and stands; take all marks off when there are any."""
        listed = frozenset(entry.seq for entry in self.rows if not self.facts.is_gone(entry))
        return replace(self, marked=frozenset() if self.marked else listed)

    @property
    def chosen(self) -> tuple[Entry, ...]:
        """The marked entries, in the order of the session, or the one under the cursor."""
        if self.marked:
            return self._in_order(entry for entry in self._all if entry.seq in self.marked)
        return () if self.current is None else (self.current,)

    @property
    def scope(self) -> tuple[str, tuple[Entry, ...]]:
        """What a change for many is for, in words, and the entries: findings that stand.

        The marked ones; else all listed when something is searched for; else
        those of the cursor's step.
        """
        if self.marked:
            words, wanted = "marked", self.chosen
        elif self.sieve.words:
            words, wanted = "listed", self.rows
        else:
            step = self.current.step if self.current else None
            words = f"on step {self.facts.title(step)}" if step else "without a step"
            wanted = tuple(entry for entry in self._all if entry.step == step)
        standing = (one for one in wanted if one.kind == "finding" and not one.struck)
        return words, self._in_order(standing)

    @property
    def _all(self) -> tuple[Entry, ...]:
        return self.listing.session.entries

    @staticmethod
    def _in_order(entries: Iterable[Entry]) -> tuple[Entry, ...]:
        return tuple(sorted(entries, key=lambda entry: (entry.sitting, entry.t)))
