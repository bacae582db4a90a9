"""The form: an entry's findings, field by field, each checked before the next."""

from __future__ import annotations

from dataclasses import replace

from benchvoice.remark import Finding
from benchvoice.screens.editor.acts import Amend, Outcome, entered, moved, refused, saved
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.fields import FIELDS, Refused, field_text, with_field
from benchvoice.screens.editor.panels import Form
from benchvoice.screens.editor.reading import Reader
from benchvoice.session import Entry, correcting


def open_form(document: Document, entry: Entry) -> Document:
    """Change the findings of an entry; one without any gets an empty one to fill in."""
    findings = entry.findings or (Finding(),)
    text = field_text(findings[0], FIELDS[0].name)
    return document.opened(Form(text=text, entry=entry, findings=findings))


@moved.register
def _(panel: Form, document: Document, reader: Reader, by: int) -> Document:
    done = taken(panel, reader)
    if not done.taken:
        return _put(document, done)
    return _shown(document, done, (panel.at + by) % len(FIELDS))


@entered.register
def _(panel: Form, document: Document, reader: Reader) -> Outcome:
    return moved(panel, document, reader, 1)


@saved.register
def _(panel: Form, document: Document, reader: Reader) -> Outcome:
    done = taken(panel, reader)
    if not done.taken:
        return _put(document, done)
    entry = done.entry
    findings = tuple(one for one in done.findings if one != Finding())
    if not findings:
        return refused(document, "no finding is left; leave it with Esc, then d deletes the entry")
    if findings == entry.findings:
        return document.opened(None).told("nothing was changed")
    return Amend(
        lambda session: correcting.edit(session, entry.seq, findings=findings, kind="finding"),
        f"entry {entry.seq} changed",
        focus=entry.seq,
    )


def other_finding(panel: Form, document: Document, reader: Reader, by: int) -> Document:
    """Go to another finding of the entry."""
    done = taken(panel, reader)
    if not done.taken:
        return _put(document, done)
    return _shown(document, replace(done, which=(done.which + by) % len(done.findings)), 0)


def new_finding(panel: Form, document: Document, reader: Reader) -> Document:
    """Put an empty finding behind the one shown."""
    done = taken(panel, reader)
    if not done.taken:
        return _put(document, done)
    at = done.which + 1
    findings = (*done.findings[:at], Finding(), *done.findings[at:])
    return _shown(document, replace(done, findings=findings, which=at), 0)


def drop_finding(panel: Form, document: Document) -> Document:
    """Take the finding shown out."""
    if len(panel.findings) == 1:
        return refused(document, "it is the only finding; leave it with Esc, then d deletes all")
    findings = (*panel.findings[: panel.which], *panel.findings[panel.which + 1 :])
    which = min(panel.which, len(findings) - 1)
    return _shown(document, replace(panel, findings=findings, which=which), 0)


def taken(panel: Form, reader: Reader) -> Form:
    """Put the typed value in its field; refused when it does not fit.

    A second time, words that the vocabulary lacks are taken as they stand.
    """
    name = FIELDS[panel.at].name
    text = panel.text
    found = with_field(panel.finding, name, text, reader.parser, insist=bool(panel.refused))
    if isinstance(found, Refused):
        return replace(panel, refused=found.what)
    at = panel.which
    findings = (*panel.findings[:at], found, *panel.findings[at + 1 :])
    return replace(panel, findings=findings, refused="")


def _shown(document: Document, panel: Form, at: int) -> Document:
    text = field_text(panel.finding, FIELDS[at].name)
    return _put(document, replace(panel, at=at, text=text, refused="", offered=()))


def _put(document: Document, panel: Form) -> Document:
    return replace(document, panel=panel)
