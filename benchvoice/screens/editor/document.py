"""What the editor shows, as one immutable value; every question about it is a pure method.

As in prompt_toolkit, the document never changes: the controller makes a new
one for each key, and the drawing reads it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from benchvoice.errors import BadInput
from benchvoice.follow import Count, tally
from benchvoice.follow.counts import count_warnings, missing_warnings
from benchvoice.grammar import Outline
from benchvoice.remark import doubt
from benchvoice.screens.editor.panels import Panel
from benchvoice.session import Entry, Session
from benchvoice.session.correcting import restore
from benchvoice.sheets.said import standing_warnings

CHATTER = frozenset({"asked", "answered", "voice", "struck", "recounted"})
"""Kinds of entries that are no record of the unit; hidden unless asked for."""


def wants_a_look(entry: Entry) -> bool:
    """Whether an entry that stands is doubtful, has two readings, or was not understood."""
    if entry.struck:
        return False
    return entry.kind == "unclear" or bool(entry.remark.ambiguous) or doubt(entry.remark) is not None


@dataclass(frozen=True)
class Sieve:
    """Which entries are listed, and in which order.

    `words` must all be somewhere in an entry.  With `doubtful_first` those that
    want a look come before the rest.  `everything` lists questions and answers too.
    """

    words: str = ""
    doubtful_first: bool = False
    everything: bool = False
    step: str | None = None


@dataclass(frozen=True)
class Listing:
    """A session seen through a sieve; made anew only when one of them changes."""

    session: Session
    outline: Outline | None
    sieve: Sieve = Sieve()

    @cached_property
    def rows(self) -> tuple[Entry, ...]:
        """The entries listed, in their order."""
        there = (*self.session.entries, *(self.gone.values() if self.sieve.everything else ()))
        wanted = [entry for entry in there if self._passes(entry)]
        wanted.sort(key=lambda entry: (entry.sitting, entry.t))
        if self.sieve.doubtful_first:
            wanted.sort(key=lambda entry: not wants_a_look(entry))
        return tuple(wanted)

    @cached_property
    def places(self) -> dict[int, int]:
        """Map seq to row."""
        return {entry.seq: row for row, entry in enumerate(self.rows)}

    @cached_property
    def doubtful(self) -> int:
        """How many entries of the session want a look."""
        return sum(map(wants_a_look, self.session.entries))

    @cached_property
    def by_seq(self) -> dict[int, Entry]:
        """Map seq to entry, listed or not."""
        return {entry.seq: entry for entry in self.session.entries}

    @cached_property
    def gone(self) -> dict[int, Entry]:
        """The entries deleted by hand, as they last stood, by seq."""
        stand = self.by_seq.keys() | {
            seq for entry in self.session.entries for seq in entry.origins
        }
        named = {seq for one in self.session.amendments for seq in one.amends}
        found: dict[int, Entry] = {}
        for seq in sorted(named - stand):
            try:
                found[seq] = restore(self.session, seq).becomes[0]
            except BadInput:  # it was put in, and that was undone
                continue
        return found

    def is_gone(self, entry: Entry) -> bool:
        """Whether an entry was deleted by hand, or struck at the bench."""
        return entry.struck or entry.seq in self.gone

    def warnings(self, entry: Entry) -> list[str]:
        """Give what an entry warned of, but for counts that add up by now."""
        if not entry.warnings:
            return []
        if self.outline is None:
            return standing_warnings(entry, None)
        counts = [count for step in self._warned(entry) for count in self.counts(step)]
        texts = (*count_warnings(counts, self.outline), *missing_warnings(counts, self.outline))
        return standing_warnings(entry, texts)

    def _warned(self, entry: Entry) -> set[str | None]:
        """The steps that an entry may warn of: its own, and the one it finishes or leaves."""
        if entry.kind == "finding":
            return {entry.step}
        return {one.step for one in self.session.entries}

    def alternatives(self, entry: Entry) -> tuple[str, ...]:
        """Give what the engine heard besides what stands, the text first recorded among it."""
        first = self.session.originals(entry.seq)
        heard = [text for one in first for text in (one.remark.heard, *one.alternatives)]
        return tuple(text for text in dict.fromkeys(heard) if text != entry.remark.heard)

    def title(self, step: str | None) -> str:
        """Name a step as the outline does, or by its id; empty for none."""
        known = self.outline.by_id.get(step or "") if self.outline else None
        return known.title if known else step or ""

    def counts(self, step: str | None) -> tuple[Count, ...]:
        """Add up what stands of a step against what the outline expects of it."""
        if self.outline is None or step is None:
            return ()
        if step not in self._counted:
            said = (
                (entry.step, entry.findings)
                for entry in self.session.entries
                if entry.step == step and entry.kind == "finding" and not entry.struck
            )
            self._counted[step] = tuple(
                count for count in tally(said, self.outline) if count.step == step
            )
        return self._counted[step]

    @cached_property
    def _counted(self) -> dict[str, tuple[Count, ...]]:
        return {}

    def _passes(self, entry: Entry) -> bool:
        if not self.sieve.everything and entry.kind in CHATTER:
            return False
        if self.sieve.step is not None and entry.step != self.sieve.step:
            return False
        words = self.sieve.words.lower().split()
        if not words:
            return True
        text = self._searched(entry)
        return all(word in text for word in words)

    def _searched(self, entry: Entry) -> str:
        found = (
            f"{one.part} {one.place} {one.condition} {one.disposition} {one.container}"
            for one in entry.findings
        )
        return f"{entry.remark.heard} {self.title(entry.step)} {' '.join(found)}".lower()


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
        done = self._listed(replace(self.listing, session=session))
        marked = self.marked & done.listing.by_seq.keys()
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
        return replace(self.at_row(self.at + 1), marked=self.marked ^ {here.seq})

    def all_toggled(self) -> Document:
        """Mark all that is listed and stands; take all marks off when there are any."""
        listed = frozenset(entry.seq for entry in self.rows if not entry.struck)
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
        elif self.sieve.words or self.sieve.step:
            words, wanted = "listed", self.rows
        else:
            step = self.current.step if self.current else None
            words = f"on step {self.listing.title(step)}" if step else "without a step"
            wanted = tuple(entry for entry in self._all if entry.step == step)
        standing = (one for one in wanted if one.kind == "finding" and not one.struck)
        return words, self._in_order(standing)

    @property
    def _all(self) -> tuple[Entry, ...]:
        return self.listing.session.entries

    @staticmethod
    def _in_order(entries: Iterable[Entry]) -> tuple[Entry, ...]:
        return tuple(sorted(entries, key=lambda entry: (entry.sitting, entry.t)))
