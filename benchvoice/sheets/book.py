"""What the follower makes of a session as it stands: ledger, open questions, putting together."""

from __future__ import annotations

from dataclasses import dataclass

from benchvoice.follow.accounts import NO_OUTLINE, accounts_of
from benchvoice.follow.advance import restore
from benchvoice.follow.ledger_values import Ledger
from benchvoice.follow.open_questions import OpenQuestion, open_in
from benchvoice.follow.readings import Checked, Reading
from benchvoice.follow.reassembly import BackStep
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.session.values import Session
from benchvoice.sheets.said import Titles, titles_of


@dataclass(frozen=True, kw_only=True)
class Book:
    """A session with its outline (None without one) and what the follower makes of it.

    `started` and `done` are step ids; `back` is empty without an outline.
    """

    session: Session
    outline: Outline | None
    pack: Pack
    ledger: Ledger
    questions: tuple[OpenQuestion, ...]
    readings: tuple[Reading, ...]
    checks: tuple[Checked, ...]
    back: tuple[BackStep, ...]
    started: frozenset[str]
    done: frozenset[str]

    @property
    def titles(self) -> Titles:
        """Map step ids to titles."""
        return titles_of(self.outline)


def book_of(session: Session, pack: Pack) -> Book:
    """Open the book of a session; the outline is that of `pack`."""
    outline = pack.outline
    state = restore(session.log, session.last_seq)
    accounts = accounts_of(session.findings, outline or NO_OUTLINE, pack.unit)
    return Book(
        session=session,
        outline=outline,
        pack=pack,
        ledger=accounts.ledger,
        questions=open_in(accounts, pack, started=state.started, done=state.done),
        readings=accounts.due,
        checks=accounts.checks,
        back=accounts.back if outline else (),
        started=state.started,
        done=state.done,
    )
