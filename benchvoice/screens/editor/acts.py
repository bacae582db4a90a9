"""What can be done in a panel: one function for each, taught to each kind of panel.

All are pure: they give the next document, or a correction that is to be
written first.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import singledispatch

from benchvoice.screens.completing import last_word
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.panels import Form, Help, Panel, Search
from benchvoice.screens.editor.reading import Reader
from benchvoice.session import Correction, Session


@dataclass(frozen=True)
class Amend:
    """A correction to be made from the session as it stands, and what is said when it is saved.

    `focus` is the entry that the cursor goes to (-1 the last one that the
    correction makes); with `unmark` all marks are taken off; `panel` stays open,
    about the entry as it is then.  `make` raises BadInput when it cannot be.
    """

    make: Callable[[Session], Correction]
    said: str
    focus: int | None = None
    unmark: bool = False
    panel: Form | None = None


Outcome = Document | Amend


def refused(document: Document, why: str) -> Document:
    """Say why what was typed is not taken."""
    if document.panel is None:
        return document.told(why, bad=True)
    return replace(document, panel=replace(document.panel, refused=why))


@singledispatch
def retyped(panel: Panel, document: Document, reader: Reader) -> Document:
    """Work out what follows from the new text of a panel that is open in `document`."""
    return document


@singledispatch
def entered(panel: Panel, document: Document, reader: Reader) -> Outcome:
    """Take what is typed or chosen."""
    return document.opened(None)


@singledispatch
def moved(panel: Panel, document: Document, reader: Reader, by: int) -> Outcome:
    """Go `by` rows up or down in a panel."""
    return document


@singledispatch
def left(panel: Panel, document: Document) -> Document:
    """Leave a panel without saving it."""
    return document.opened(None)


def typed(document: Document, text: str, before: str, reader: Reader) -> Document:
    """Follow the typed line; `before` is the part of it before its cursor."""
    panel = document.panel
    if panel is None or not panel.label or text == panel.text:
        return document
    offered: tuple[str, ...] = ()
    if panel.completes:
        offered = reader.words.beginning(last_word(before))
    panel = replace(panel, text=text, refused="", offered=offered)
    return retyped(panel, replace(document, panel=panel), reader)


@retyped.register
def _(panel: Search, document: Document, reader: Reader) -> Document:
    return document.sifted(replace(document.sieve, words=panel.text))


@left.register
def _(panel: Search, document: Document) -> Document:
    return document.sifted(replace(document.sieve, words=panel.before)).opened(None)


@moved.register
def _(panel: Help, document: Document, reader: Reader, by: int) -> Outcome:
    return replace(document, panel=replace(panel, top=max(0, min(panel.top + by, panel.last))))
