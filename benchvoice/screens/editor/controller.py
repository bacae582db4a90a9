"""What the keys do: the next document, and corrections written before it is shown.

All that changes here is which document is shown.  A correction is made by the
session's pure constructors and is on the disk before the screen says so.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from benchvoice.errors import AudioError, BadInput
from benchvoice.grammar import Outline
from benchvoice.screens.editor import acts
from benchvoice.screens.editor.acts import Amend, Outcome
from benchvoice.screens.editor.bulk import open_bulk
from benchvoice.screens.editor.document import Document, Listing, Sieve
from benchvoice.screens.editor.facts import Facts
from benchvoice.screens.editor.form import drop_finding, new_finding, open_form, other_finding
from benchvoice.screens.editor.help import help_lines
from benchvoice.screens.editor.panels import Form, Help, Search, which
from benchvoice.screens.editor.reading import Reader
from benchvoice.screens.editor.remarks import open_insert, open_retype, open_split, open_texts
from benchvoice.screens.editor.steps import open_steps, open_times
from benchvoice.screens.player import Player
from benchvoice.session import Corrections, Entry, correcting, redo, undo


class Editor:
    """The editor of one session: a document, and a method for each key (see `help.KEYS`)."""

    def __init__(
        self,
        corrections: Corrections,
        outline: Outline | None,
        reader: Reader,
        player: Player,
    ) -> None:
        self.document = Document(Listing(Facts(corrections.session, outline)))
        self.reader = reader
        self.leave: Callable[[], None] = lambda: None
        """What ends the application; whoever makes that sets it."""
        self.page = 10
        """How many rows are shown; whoever draws sets it."""
        self._corrections = corrections
        self._player = player

    # in the list

    def up(self) -> None:
        """Go to the row above."""
        self._go(self.document.at - 1)

    def down(self) -> None:
        """Go to the row below."""
        self._go(self.document.at + 1)

    def page_up(self) -> None:
        """Go up a page."""
        self._go(self.document.at - self.page)

    def page_down(self) -> None:
        """Go down a page."""
        self._go(self.document.at + self.page)

    def top(self) -> None:
        """Go to the first row."""
        self._go(0)

    def bottom(self) -> None:
        """Go to the last row."""
        self._go(len(self.document.rows) - 1)

    def next_doubtful(self) -> None:
        """Go to the next entry that wants a look."""
        self.document = self.document.at_next_doubtful()

    def order(self) -> None:
        """List what wants a look first, or all in the order of time."""
        first = not self.document.sieve.doubtful_first
        self._sift(replace(self.document.sieve, doubtful_first=first))
        if first:
            self._go(0)

    def everything(self) -> None:
        """List also what is deleted, questions and answers; or not."""
        self._sift(replace(self.document.sieve, everything=not self.document.sieve.everything))

    def clear(self) -> None:
        """Stop searching, and take the marks off."""
        self._sift(replace(self.document.sieve, words=""))
        self.document = replace(self.document, marked=frozenset())

    def mark(self) -> None:
        """Mark the entry, or take its mark off."""
        self.document = self.document.toggled()

    def mark_all(self) -> None:
        """Mark all that is listed, or take all marks off."""
        self.document = self.document.all_toggled()

    def quit(self) -> None:
        """Leave the editor."""
        self._player.stop()
        self.leave()

    def play(self) -> None:
        """Play the clip of the entry."""
        entry = self.document.current
        clip = None if entry is None else entry.clip
        if clip is None:
            self._refuse("this entry has no clip")
            return
        try:
            seconds = self._player.play(self.document.listing.session.folder / clip)
        except AudioError as error:
            self._refuse(str(error))
        else:
            self.document = self.document.told(f"playing {clip}, {seconds:.1f} s")

    # opening panels

    def search(self) -> None:
        """Ask for words to search for."""
        words = self.document.sieve.words
        self.document = self.document.opened(Search(text=words, before=words))

    def help(self) -> None:
        """Show all keys."""
        self.document = self.document.opened(Help(last=max(0, len(help_lines()) - self.page)))

    def retype(self) -> None:
        """Type the words of the entry anew."""
        self._open(lambda entry: open_retype(self.document, entry, self.reader))

    def insert(self) -> None:
        """Type a remark that was forgotten."""
        self._open(lambda entry: open_insert(self.document, entry, self.reader))

    def split(self) -> None:
        """Cut the entry where the user says."""
        self._open(lambda entry: open_split(self.document, entry, self.reader))

    def pick_text(self) -> None:
        """Choose among what the engine heard."""
        self._open(lambda entry: open_texts(self.document, entry, self.reader))

    def times(self) -> None:
        """Change when the entry was said."""
        self._open(lambda entry: open_times(self.document, entry))

    def form(self) -> None:
        """Change the findings field by field."""
        self._open(lambda entry: open_form(self.document, entry))

    def pick_step(self) -> None:
        """Choose another step for the chosen entries."""
        self.document = open_steps(self.document)

    def bulk(self) -> None:
        """Change many entries at once."""
        self.document = open_bulk(self.document)

    # corrections made at once

    def confirm(self) -> None:
        """Say that the chosen entries are right; a single one is left for the next."""
        chosen, row = self._chosen(), self.document.at
        if not chosen:
            return
        done = self._take(
            Amend(lambda session: correcting.confirm(session, chosen), f"{which(chosen)} is right")
        )
        here = self.document.current
        if done and here is not None and [here.seq] == chosen:
            self.document = replace(self.document.at_row(row + 1), message=self.document.message)

    def delete(self) -> None:
        """Take the chosen entries out of the record."""
        chosen = self._chosen()
        if chosen:
            self._take(
                Amend(
                    lambda session: correcting.delete(session, chosen),
                    f"{which(chosen)} deleted; u takes it back",
                    unmark=True,
                )
            )

    def restore(self) -> None:
        """Bring a deleted or struck entry back."""
        entry = self.document.current
        if entry is None:
            return
        if not self.document.facts.is_gone(entry):
            self._refuse("it is not deleted; u takes the last change back")
            return
        self._take(
            Amend(
                lambda session: correcting.restore(session, entry.seq),
                f"entry {entry.seq} is back",
                focus=entry.seq,
            )
        )

    def join(self) -> None:
        """Join the marked entries, or the one under the cursor with the next."""
        seqs = self._chosen()
        if not self.document.marked:
            below = self.document.rows[self.document.at + 1 : self.document.at + 2]
            if not below:
                self._refuse("there is no next one to join")
                return
            seqs = [*seqs, below[0].seq]
        self._take(
            Amend(
                lambda session: correcting.join(session, seqs),
                f"{len(seqs)} entries joined",
                focus=seqs[0],
                unmark=True,
            )
        )

    def undo(self) -> None:
        """Take the last change back."""
        self._take(Amend(undo, "the last change is taken back; U makes it again"))

    def redo(self) -> None:
        """Make again what was taken back last."""
        self._take(Amend(redo, "the change is made again"))

    # in a panel

    def typed(self, text: str, before: str) -> None:
        """Follow the typed line; `before` is the part of it before its cursor."""
        self.document = acts.typed(self.document, text, before, self.reader)

    def entered(self) -> None:
        """Take what is typed or chosen."""
        if self.document.panel is not None:
            self._take(acts.entered(self.document.panel, self.document, self.reader))

    def left(self) -> None:
        """Leave the panel without saving it."""
        if self.document.panel is not None:
            self.document = acts.left(self.document.panel, self.document)

    def moved(self, by: int) -> None:
        """Go up or down in the panel."""
        if self.document.panel is not None:
            self._take(acts.moved(self.document.panel, self.document, self.reader, by))

    def paged(self, by: int) -> None:
        """Go a page up or down in the panel; in a form, to another finding."""
        panel = self.document.panel
        if isinstance(panel, Form):
            self._take(other_finding(panel, self.document, self.reader, by))
        else:
            self.moved(by * self.page)

    def finding_added(self) -> None:
        """Put a new finding in the form."""
        if isinstance(self.document.panel, Form):
            self._take(new_finding(self.document.panel, self.document, self.reader))

    def finding_dropped(self) -> None:
        """Take the finding shown out of the form."""
        if isinstance(self.document.panel, Form):
            self._take(drop_finding(self.document.panel, self.document, self.reader))

    def _take(self, outcome: Outcome) -> bool:
        """Show a document, or write a correction and show what comes of it."""
        if not isinstance(outcome, Amend):
            self.document = outcome
            return True
        try:
            correction = outcome.make(self.document.listing.session)
            session = self._corrections.amend(correction)
        except BadInput as error:
            self.document = acts.refused(self.document, str(error))
            return False
        focus = correction.becomes[-1].seq if outcome.focus == -1 else outcome.focus
        if correction.undoes is not None:
            focus = self._undone(correction.undoes)
        document = self.document.opened(None).renewed(session, focus)
        if outcome.unmark:
            document = replace(document, marked=frozenset())
        document = document.told(f"saved: {outcome.said}")
        if outcome.panel is not None:
            entry = document.facts.by_seq[outcome.panel.entry.seq]
            document = replace(document, panel=replace(outcome.panel, entry=entry))
        self.document = document
        return True

    def _undone(self, seq: int) -> int | None:
        """Give the first entry that an amendment changed, or the one that it takes back did."""
        by_seq = {one.seq: one for one in self.document.facts.session.amendments}
        found = by_seq[seq]
        while found.undoes is not None:
            found = by_seq[found.undoes]
        changed = (*found.amends, *(entry.seq for entry in found.becomes))
        return changed[0] if changed else None

    def _open(self, opening: Callable[[Entry], Document]) -> None:
        """Open a panel about the entry under the cursor, when it stands."""
        entry = self.document.current
        if entry is None:
            self._refuse("there is no entry here")
        elif self.document.facts.is_gone(entry):
            self._refuse("it is deleted; r brings it back")
        else:
            self.document = opening(entry)

    def _go(self, row: int) -> None:
        self.document = self.document.at_row(row)

    def _sift(self, sieve: Sieve) -> None:
        self.document = self.document.sifted(sieve)

    def _refuse(self, why: str) -> None:
        self.document = self.document.told(why, bad=True)

    def _chosen(self) -> list[int]:
        return [entry.seq for entry in self.document.chosen]
