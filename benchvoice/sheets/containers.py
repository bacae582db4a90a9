"""What was put into which container."""

from __future__ import annotations

from benchvoice.follow.wording import parts_text, size_texts
from benchvoice.remark import Finding, Frozen
from benchvoice.session.values import Session


class Kept(Frozen, frozen=True, kw_only=True):
    """What one container has, in the order said; `entries` are the seqs of the remarks."""

    container: str
    what: tuple[str, ...]
    entries: tuple[int, ...]


def containers_of(session: Session) -> tuple[Kept, ...]:
    """Give the containers by name, "tray 2" before "tray 10"."""
    kept: dict[str, list[tuple[int, str]]] = {}
    for entry in session.standing:
        for finding in entry.findings if entry.kind == "finding" else ():
            if finding.container:
                kept.setdefault(finding.container, []).append((entry.seq, thing_text(finding)))
    return tuple(
        Kept(
            container=name,
            what=tuple(text for _, text in kept[name]),
            entries=tuple(dict.fromkeys(seq for seq, _ in kept[name])),
        )
        for name in sorted(kept, key=_by_number)
    )


def thing_text(finding: Finding) -> str:
    """Name the thing a finding is of, with what tells it from others: count, size, side, place."""
    pieces = [
        parts_text(finding.part or "something", finding.count),
        *size_texts(finding.size),
        finding.side or "",
        finding.place or "",
    ]
    return ", ".join(piece for piece in pieces if piece)


def _by_number(name: str) -> tuple[tuple[int, int, str], ...]:
    return tuple(
        (0, int(word), "") if word.isascii() and word.isdigit() else (1, 0, word)
        for word in name.split()
    )
