"""Conditions found in a session, by the step that they were found on."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.session.values import Entry, Session


def conditions_found(session: Session) -> Iterator[tuple[str, str, Entry]]:
    """Yield (step id, condition with its part, entry) as said: ("front", "seized bolt", ...)."""
    for entry in session.standing:
        for finding in entry.findings if entry.kind == "finding" else ():
            step = finding.own_step or entry.step
            for condition in finding.all_conditions:
                if step is not None:
                    yield step, " ".join(filter(None, (condition, finding.part))), entry
