"""One change understood, and made to the findings of many entries."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace as replaced

from msgspec.structs import replace

from benchvoice.follow.wording import finding_text
from benchvoice.language import Parser
from benchvoice.remark import Finding
from benchvoice.screens.editor.acts import Amend, Outcome, entered, refused, retyped
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.panels import Bulk, BulkChange
from benchvoice.screens.editor.reading import Reader
from benchvoice.session import Correction, Entry, Session, correcting
from benchvoice.sheets.layout import counted

_OPENINGS = ("every", "each", "all the", "all")
_SCOPES = ("on this step", "of this step", "in this step", "here")
_VERBS = ("goes", "go", "is", "are", "gets", "get")
"""What may be said around a change and is no part of it: "every nut on this step goes in bag 2"."""


def understood(text: str, parser: Parser) -> Finding | str:
    """Read a change: its part (if any) chooses the findings, the rest is what they shall have.

    Gives a line for the user when it cannot be read.
    """
    said = " ".join(text.lower().split())
    for scope in _SCOPES:
        said = said.replace(f" {scope}", "")
    for opening in _OPENINGS:
        said = said.removeprefix(f"{opening} ")
    words = [word for word in said.split() if word not in _VERBS]
    if not words:
        return "type what holds for all: bag 2, nuts in bag 2, replace, cracked"
    remark = parser.parse(" ".join(words))
    if len(remark.findings) != 1 or remark.unparsed:
        left = ", ".join(remark.unparsed) or text
        return f"not understood: {left}; type a container, what shall happen, or a condition"
    change = remark.findings[0]
    if not (change.container or change.disposition or change.condition):
        return "nothing to change: give a container, what shall happen, or a condition"
    return change


def changed(entries: Iterable[Entry], change: Finding) -> tuple[BulkChange, ...]:
    """Give the entries that the change makes different, with their findings as they would be."""
    done = []
    for entry in entries:
        findings = tuple(
            _with(finding, change) if _is_meant(finding, change) else finding
            for finding in entry.findings
        )
        if findings != entry.findings:
            done.append(BulkChange(entry, findings))
    return tuple(done)


def _is_meant(finding: Finding, change: Finding) -> bool:
    """Whether a finding is of the part of the change, or of a kind of it: a lock nut is a nut.

    Any part is meant when the change names none.
    """
    if not change.part or not finding.part:
        return finding.part is not None
    return f" {finding.part}".endswith(f" {change.part}")


def _with(finding: Finding, change: Finding) -> Finding:
    done = finding
    if change.container:
        done = replace(done, container=change.container)
    if change.disposition:
        done = replace(done, disposition=change.disposition)
    if change.condition:
        done = replace(done, condition=change.condition, conditions=change.conditions)
    return done


def open_bulk(document: Document) -> Document:
    """Change many entries at once."""
    words, entries = document.scope
    if not entries:
        return document.told("no findings to change here; mark some, or search for them", bad=True)
    return document.opened(Bulk(words=words, entries=entries))


@retyped.register
def _(panel: Bulk, document: Document, reader: Reader) -> Document:
    change = understood(panel.text, reader.parser)
    if isinstance(change, str):
        return replaced(document, panel=replaced(panel, changes=(), note=change))
    changes = changed(panel.entries, change)
    which = f"what is a {change.part}" if change.part else "every part"
    shall = replace(change, part=None, count=None)
    note = f"{which}: {finding_text(shall)}" + ("" if changes else "; nothing here would change")
    return replaced(document, panel=replaced(panel, changes=changes, note=note))


@entered.register
def _(panel: Bulk, document: Document, reader: Reader) -> Outcome:
    change = understood(panel.text, reader.parser)
    if isinstance(change, str):
        return refused(document, change)
    if not panel.changes:
        return refused(document, "none of these entries would change")
    why = panel.text.strip()

    def make(session: Session) -> Correction:
        # no count, size or limit is of a container, a condition or what shall happen
        edits = [
            correcting.edit(session, one.entry.seq, one.findings, warnings=one.entry.warnings)
            for one in panel.changes
        ]
        return correcting.together(session, edits, why=why)

    many = counted(len(panel.changes), "entry", "entries")
    return Amend(make, f"{many} changed; u takes it back", unmark=True)
