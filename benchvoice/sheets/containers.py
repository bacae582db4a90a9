"""What was put into which container."""

from __future__ import annotations

from benchvoice.remark import Frozen
from benchvoice.sheets.book import Book
from benchvoice.sheets.said import title_of


class Kept(Frozen, frozen=True, kw_only=True):
    """What one container has as last said, each with the step that it comes from."""

    container: str
    what: tuple[str, ...]


def containers_of(book: Book) -> tuple[Kept, ...]:
    """Give the containers by name, "tray 2" before "tray 10"."""
    return tuple(
        Kept(
            container=one.label,
            what=tuple(f"{item.text} ({title_of(item.step, book.titles)})" for item in one.items),
        )
        for one in sorted(book.ledger.containers, key=lambda one: _by_number(one.label))
    )


def _by_number(name: str) -> tuple[tuple[int, int, str], ...]:
    return tuple(
        (0, int(word), "") if word.isascii() and word.isdigit() else (1, 0, word)
        for word in name.split()
    )
