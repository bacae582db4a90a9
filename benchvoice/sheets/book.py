"""What the follower makes of a session as it stands: ledger, open questions, putting together."""

from __future__ import annotations

from dataclasses import dataclass

from benchvoice.follow.advance import restore
from benchvoice.follow.ledger import ledger
from benchvoice.follow.ledger_values import Ledger
from benchvoice.follow.open_questions import OpenQuestion, open_questions
from benchvoice.follow.reassembly import BackStep, reassembly
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.session.values import Session
from benchvoice.sheets.said import Titles, titles_of

NO_OUTLINE = Outline(name="", title="", unit="", stage=())


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
    made = ledger(session.findings, outline or NO_OUTLINE)
    return Book(
        session=session,
        outline=outline,
        pack=pack,
        ledger=made,
        questions=open_questions(session.findings, pack, started=state.started, done=state.done),
        back=reassembly(made, outline) if outline else (),
        started=state.started,
        done=state.done,
    )
