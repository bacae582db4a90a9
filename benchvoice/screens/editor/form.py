"""The form: an entry's findings, field by field, each checked and saved before the next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from benchvoice.remark import Finding
from benchvoice.screens.editor.acts import Amend, Outcome, entered, moved, refused
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.fields import FIELDS, Refused, field_text, with_field
from benchvoice.screens.editor.panels import Form
from benchvoice.screens.editor.reading import Reader, state_before
from benchvoice.session import Correction, Entry, Session, correcting


def open_form(document: Document, entry: Entry) -> Document:
    """Change the findings of an entry; one that was not understood gets an empty one to fill in."""
    if entry.kind not in ("finding", "unclear"):
        return document.told("only findings have fields; Enter retypes it", bad=True)
    findings = entry.findings or (Finding(),)
    text = field_text(findings[0], FIELDS[0].name)
    return document.opened(Form(text=text, entry=entry, findings=findings))


@moved.register
def _(panel: Form, document: Document, reader: Reader, by: int) -> Outcome:
    return _going(panel, document, reader, lambda form: _at(form, panel.at + by))


@entered.register
def _(panel: Form, document: Document, reader: Reader) -> Outcome:
    return moved(panel, document, reader, 1)


def other_finding(panel: Form, document: Document, reader: Reader, by: int) -> Outcome:
    """Go to another finding of the entry."""
    which = (panel.which + by) % len(panel.findings)
    return _going(panel, document, reader, lambda form: _at(replace(form, which=which), 0))


def new_finding(panel: Form, document: Document, reader: Reader) -> Outcome:
    """Put an empty finding behind the one shown; it is saved when something is in it."""
    at = panel.which + 1

    def grown(form: Form) -> Form:
        findings = (*form.findings[:at], Finding(), *form.findings[at:])
        return _at(replace(form, findings=findings, which=at), 0)

    return _going(panel, document, reader, grown)


def drop_finding(panel: Form, document: Document, reader: Reader) -> Outcome:
    """Take the finding shown out."""
    findings = (*panel.findings[: panel.which], *panel.findings[panel.which + 1 :])
    if not any(one != Finding() for one in findings):
        return refused(document, "it is the only finding; leave it with Esc, then d deletes all")
    which = min(panel.which, len(findings) - 1)
    return _saved(_at(replace(panel, findings=findings, which=which), 0), document, reader)


def taken(panel: Form, reader: Reader) -> Form:
    """Put the typed value in its field; refused when it does not fit.

    A second time, words that the vocabulary lacks are taken as they stand.
    """
    name = FIELDS[panel.at].name
    insist = bool(panel.refused)
    found = with_field(panel.finding, name, panel.text, reader.parser, insist=insist)
    if isinstance(found, Refused):
        return replace(panel, refused=found.what)
    at = panel.which
    findings = (*panel.findings[:at], found, *panel.findings[at + 1 :])
    return replace(panel, findings=findings, refused="")


def _going(
    panel: Form, document: Document, reader: Reader, then: Callable[[Form], Form]
) -> Outcome:
    """Take the typed value, save it when it changed something, and go on with `then`."""
    done = taken(panel, reader)
    if done.refused:
        return replace(document, panel=done)
    return _saved(then(done), document, reader)


def _saved(panel: Form, document: Document, reader: Reader) -> Outcome:
    entry = panel.entry
    findings = tuple(one for one in panel.findings if one != Finding())
    if findings == entry.findings:
        return replace(document, panel=panel)
    if not findings:
        return refused(document, "no finding would be left; leave it with Esc, then d deletes it")

    def make(session: Session) -> Correction:
        warnings = reader.warnings(findings, state_before(session, entry), entry.step)
        return correcting.edit(session, entry.seq, findings, kind="finding", warnings=warnings)

    return Amend(
        make,
        f"entry {entry.seq} changed",
        focus=entry.seq,
        panel=panel,
    )


def _at(panel: Form, at: int) -> Form:
    at %= len(FIELDS)
    text = field_text(panel.finding, FIELDS[at].name)
    return replace(panel, at=at, text=text, refused="", offered=())
