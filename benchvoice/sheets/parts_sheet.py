"""The parts list: what to order, what to send out, what still has to be decided."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from msgspec.structs import replace

from benchvoice.remark import Frozen
from benchvoice.sheets.book import Book
from benchvoice.sheets.head import SheetHead, head_of
from benchvoice.sheets.said import Titles, title_of, with_title
from benchvoice.sheets.wanted import Wanted, wanted

Todo = Literal["order", "send out", "discarded", "decide"]

_TODO: dict[str, Todo] = {
    "replace": "order",
    "order": "order",
    "always": "order",
    "machine": "send out",
    "send out": "send out",
    "discard": "discarded",
    "decide": "decide",
}


class Source(Frozen, frozen=True, kw_only=True):
    """Where a row of the list comes from: a remark (seq and clip), or the outline (both None)."""

    step: str
    place: str | None = None
    quantity: int | None = None
    entry: int | None = None
    clip: str | None = None


class PartRow(Frozen, frozen=True, kw_only=True):
    """One thing to order, send out or decide on.

    `quantity` is None when no number is known; `quantity_by` tells whose
    number it is: "said" with it, "counted" in the same step, or the
    "outline"'s.  `check` is what to look at before ordering, in words.
    `decided_by` is "bench" for what was said, "outline" for its own rule.
    """

    todo: Todo
    part: str
    quantity: int | None = None
    quantity_by: Literal["said", "counted", "outline"] | None = None
    size: tuple[str, ...] = ()
    size_by: Literal["said", "outline"] | None = None
    why: tuple[str, ...] = ()
    action: str = ""
    decided_by: Literal["bench", "outline"] = "bench"
    check: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()


class PartsSheet(Frozen, frozen=True, kw_only=True):
    """Parts by what has to happen to them, in the order said; `undecided` are open questions."""

    head: SheetHead
    order: tuple[PartRow, ...] = ()
    send_out: tuple[PartRow, ...] = ()
    discarded: tuple[PartRow, ...] = ()
    decide: tuple[PartRow, ...] = ()
    undecided: tuple[str, ...] = ()

    @property
    def rows(self) -> tuple[PartRow, ...]:
        """All rows, group after group."""
        return (*self.order, *self.send_out, *self.discarded, *self.decide)


def parts_sheet(book: Book) -> PartsSheet:
    """Give the parts list.

    Parts of one name are one row only where their sizes are known and the
    same: a washer from here and one from there may differ.
    """
    titles = book.titles
    rows = list(_merged(_row(one, titles) for one in wanted(book.session, book.outline)))

    def of(todo: Todo) -> tuple[PartRow, ...]:
        return tuple(row for row in rows if row.todo == todo)

    return PartsSheet(
        head=head_of("parts", book.session, book.outline),
        order=of("order"),
        send_out=of("send out"),
        discarded=of("discarded"),
        decide=of("decide"),
        undecided=undecided_texts(book),
    )


def undecided_texts(book: Book) -> tuple[str, ...]:
    """Say what was found and nobody has decided on, each with its step."""
    return tuple(
        with_title(one.step, one.text, book.titles)
        for one in book.questions
        if one.kind in ("undecided", "out of limit", "check failed")
    )


def _row(one: Wanted, titles: Titles) -> PartRow:
    if one.disposition == "discard" and one.always:
        one = replace(one, disposition="replace")
    quantity, by = _quantity(one)
    place = one.place or one.home
    return PartRow(
        todo="decide" if one.said_reuse else _TODO[one.disposition],
        part=one.part,
        quantity=quantity,
        quantity_by=by,
        size=one.size,
        size_by=one.size_by,
        why=_why(one),
        action=one.disposition if one.disposition != "always" else "replace",
        decided_by="outline" if one.disposition == "always" else "bench",
        check=tuple(_checks(one, quantity, by, titles)),
        sources=(
            Source(
                step=title_of(one.step, titles),
                place=", ".join(filter(None, [one.side, place])) or None,
                quantity=quantity,
                entry=one.entry,
                clip=one.clip,
            ),
        ),
    )


def _quantity(one: Wanted) -> tuple[int | None, Literal["said", "counted", "outline"] | None]:
    if one.count is not None:
        return one.count, "said"
    if one.counted is not None:
        return one.counted, "counted"
    if one.expected is not None:
        return one.expected, "outline"
    return None, None


def _why(one: Wanted) -> tuple[str, ...]:
    rule = ("always replaced",) if one.always else ()
    return (*one.conditions, *rule) or ("no reason said",)


def _checks(one: Wanted, quantity: int | None, by: str | None, titles: Titles) -> Iterator[str]:
    if one.maybe:
        yield f"not said which: {' or '.join(title_of(step, titles) for step in one.maybe)}"
    if one.again:
        yield "once more: said of the one that was put in"
    if one.said_reuse:
        yield "the bench said to reuse it, the outline always replaces it"
    if by == "counted":
        yield "no number was said with it: the number is what was counted there"
    if by == "outline" and one.disposition != "always" and quantity != 1:
        yield "no number was said: the number is the outline's"
    if quantity is None:
        yield "no number was said"
    if None not in (quantity, one.expected) and quantity != one.expected:
        yield f"the outline has {one.expected}"
    if one.doubt:
        yield one.doubt


def _merged(rows: Iterable[PartRow]) -> Iterator[PartRow]:
    """Join rows of the same part, size and fate; rows without a known size stay apart."""
    joined: dict[tuple[object, ...], PartRow] = {}
    for index, row in enumerate(rows):
        same = row.size if row.size and row.quantity is not None else index
        key = (row.todo, row.action, row.part, row.decided_by, same)
        before = joined.get(key)
        joined[key] = row if before is None else _joined(before, row)
    yield from joined.values()


def _joined(one: PartRow, other: PartRow) -> PartRow:
    return PartRow(
        todo=one.todo,
        part=one.part,
        quantity=(one.quantity or 0) + (other.quantity or 0),
        quantity_by=one.quantity_by if one.quantity_by == other.quantity_by else "counted",
        size=one.size,
        size_by=one.size_by if one.size_by == other.size_by else "outline",
        why=tuple(dict.fromkeys([*one.why, *other.why])),
        action=one.action,
        decided_by=one.decided_by,
        check=tuple(dict.fromkeys([*one.check, *other.check])),
        sources=(*one.sources, *other.sources),
    )
