"""What was said, put under the steps that a drafted outline will have."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Container, Iterable, Mapping
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.asked_for import put_back_at
from benchvoice.follow.counts import OFF, ON
from benchvoice.follow.ledger import is_count
from benchvoice.follow.naming import step_names
from benchvoice.grammar import Outline
from benchvoice.grammar.outline import StageKind
from benchvoice.session import Entry, Session

_WORK: Mapping[str, StageKind] = {
    **dict.fromkeys(OFF, "strip"),
    **dict.fromkeys(ON, "assemble"),
    **dict.fromkeys(("cleaned", "lapped"), "clean"),
    **dict.fromkeys(("measured", "inspected", "checked"), "inspect"),
    **dict.fromkeys(("tested", "filled"), "test"),
}
_PLAIN = re.compile(r"[^a-z0-9]+")

LOOSE = "not placed"
"""Name of the step of what was said before any step or place was named."""


class Group(NamedTuple):
    """A step to be: its id, what it is called, the nature of its work, and the step it undoes."""

    id: str
    name: str
    kind: StageKind
    undoes: str | None = None


def regrouped(session: Session, outline: Outline | None) -> tuple[Session, tuple[Group, ...]]:
    """Give the session with its entries under the steps to be, and these in the order begun.

    A step of the outline stays what it is, also where the session knew it by name only.  Another
    that was called something ("start the front cover") is a step of that name; what was said
    without any belongs to the place that it names, else to the step before it.  Where parts came
    off and went back on under one name these are two steps.
    """
    known = outline.by_id if outline else {}
    called = {_plain(name): step.id for step in known.values() for name in step_names(step)}
    session = _as_called(session, called)
    names = _named(session, set(known))
    works: dict[str, Counter[StageKind]] = {}
    looks: dict[str, bool] = {}
    for entry, name in zip(session.entries, names, strict=True):
        works.setdefault(name or LOOSE, Counter()).update(_works(entry))
        for finding in entry.findings if entry.kind == "finding" and not entry.struck else ():
            only = looks.get(name or LOOSE, True) and not is_count(finding)
            looks[name or LOOSE] = only and finding.action is None
    for name, only in looks.items():
        if only and not works[name]:
            works[name]["inspect"] = 1  # nothing was done but to look and decide
    groups: dict[str, Group] = {}
    entries = []
    for entry, name in zip(session.entries, names, strict=True):
        if name is None:
            entries.append(entry)
            continue
        if name in known and outline is not None:
            group = _known(name, outline, puts_back=_goes_on(entry, session))
        else:
            group = _group(name, works[name], _works(entry), set(known))
        if not entry.struck:
            groups.setdefault(group.id, group)
        ends = entry.finishes
        if ends is not None and ends not in known:
            ends = name if entry.kind == "finished" else ends
            ends = _group(ends, works.get(ends, Counter()), (), set(known)).id
        entries.append(replace(entry, step=group.id, finishes=ends))
    return replace(session, entries=tuple(entries)), tuple(groups.values())


def _goes_on(entry: Entry, session: Session) -> bool:
    """Whether an entry of a session that knew steps by name only puts on what came off."""
    return not session.header.outline and "assemble" in _works(entry)


def _known(step: str, outline: Outline, *, puts_back: bool) -> Group:
    """Give a step of the outline, or with `puts_back` the one that puts back what it took off."""
    own = put_back_at(outline).get(step, step) if puts_back else step
    return Group(own, outline.by_id[own].title, outline.kind_of[own])


def _as_called(session: Session, called: Mapping[str, str]) -> Session:
    """Put entries that are of a step of the outline by its name under that step."""

    def step_of(name: str | None) -> str | None:
        return called.get(_plain(name), name) if name else name

    return replace(
        session,
        entries=tuple(
            replace(entry, step=step_of(entry.step), finishes=step_of(entry.finishes))
            for entry in session.entries
        ),
    )


def _named(session: Session, known: set[str]) -> list[str | None]:
    """Name the step of each entry; None for what is of no step (questions, the clock)."""
    names: list[str | None] = []
    before: str | None = None
    ended: set[str] = set()
    for entry in session.entries:
        name = entry.step
        left = name in ended and name not in known and entry.kind in ("finding", "finished")
        if entry.kind == "finding" and (name is None or left):
            place = next((finding.place for finding in entry.findings if finding.place), None)
            name = place or before or LOOSE
        elif left:
            name = before
        if name is not None and entry.kind in ("finding", "started", "moved"):
            before = name
        if entry.finishes is not None and not entry.struck:
            ended.add(entry.finishes)
        if entry.kind in ("started", "moved") and name is not None:
            ended.discard(name)
        names.append(name)
    return names


def _works(entry: Entry) -> list[StageKind]:
    findings = entry.findings if entry.kind == "finding" and not entry.struck else ()
    actions = (finding.action or "" for finding in findings)
    return [_WORK[action] for action in actions if action in _WORK]


def _group(
    name: str, whole: Counter[StageKind], own: Iterable[StageKind], taken: set[str]
) -> Group:
    """Give the group of an entry of step `name`, in which `whole` was done, and `own` by it."""
    both = whole["strip"] > 0 and whole["assemble"] > 0
    kind: StageKind = whole.most_common(1)[0][0] if whole else "strip"
    if both:
        kind = "assemble" if "assemble" in own else "strip"
    if both and kind == "assemble":
        return Group(_id(f"{name} on", taken), f"{name} on", kind, _id(name, taken))
    return Group(_id(name, taken), name, kind)


def _id(name: str, taken: Container[str]) -> str:
    plain = _plain(name) or "step"
    return f"{plain}_2" if plain in taken else plain


def _plain(name: str) -> str:
    return _PLAIN.sub("_", name.lower()).strip("_")
