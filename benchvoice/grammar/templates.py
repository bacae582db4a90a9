"""Sentence templates in hassil's syntax, spread out into plain rows of words and slots."""

from __future__ import annotations

from itertools import product
from typing import Any, NamedTuple

from benchvoice.errors import GrammarError

SLOTS = frozenset(
    "count part parts fastener fasteners place side qualifier condition action disposition "
    "container measure torque size orientation stack mark tool ordinal group "
    "correction negation".split()
)
"""The slots that templates may have."""

THINGS = frozenset({"part", "parts", "fastener", "fasteners"})
PLURAL = frozenset({"parts", "fasteners"})
_BE = frozenset({"is", "are", "looks", "it's", "they're"})
_NOUNISH = THINGS | {"count", "qualifier", "ordinal"}


class Item(NamedTuple):
    """Plain words (`slot` empty) or a slot (`words` empty), and what the slot's filler has to suit.

    `plural`: of the thing that is talked about; None when there is none.
    `leads`: a thing follows that this is said of; `after_be`: "is" or "are" stands before it.
    """

    words: str = ""
    slot: str = ""
    plural: bool | None = None
    leads: bool = False
    after_be: bool = False


def spread(template: str) -> list[tuple[Item, ...]]:
    """Give every row that a template allows: optional words in and out, each alternative.

    Raises GrammarError naming a template with a mistake or an unknown slot.
    """
    from hassil import parse_sentence  # late: it costs every start much, and is seldom needed
    from hassil.parser import ParseError

    try:
        sentence = parse_sentence(template)
    except (ParseError, AssertionError) as error:  # the second for a template without anything
        raise GrammarError(
            f'template "{template}" cannot be read ({error})', mend="check its brackets"
        ) from None
    rows = [row.split() for row in _expand(sentence.expression, template)]
    if not any(rows):
        raise GrammarError(f'template "{template}" says nothing', mend="give it a word or a slot")
    return [_items(row, template) for row in rows if row]


def _expand(node: Any, template: str) -> list[str]:
    from hassil.expression import Alternative, ListReference, Sequence, TextChunk

    match node:
        case TextChunk():
            return [node.text]
        case ListReference():
            return [f" {{{node.list_name}}} "]
        case Alternative():
            return [text for item in node.items for text in _expand(item, template)]
        case Sequence():
            parts = [_expand(item, template) for item in node.items]
            return ["".join(row) for row in product(*parts)]
    raise GrammarError(
        f'template "{template}" has more than slots, [optional] and (one|another)',
        mend="write it out as several templates",
    )


def _items(row: list[str], template: str) -> tuple[Item, ...]:
    pieces: list[tuple[str, str]] = []
    for word in row:
        if word.startswith("{"):
            slot = word.strip("{}")
            if slot not in SLOTS:
                raise GrammarError(
                    f'template "{template}" has the unknown slot {word}',
                    mend=f"use one of: {' '.join(sorted(SLOTS))}",
                )
            pieces.append(("", slot))
        elif pieces and pieces[-1][0]:
            pieces[-1] = (f"{pieces[-1][0]} {word}", "")
        else:
            pieces.append((word, ""))
    slots = [slot for _, slot in pieces]
    return tuple(_item(pieces, slots, at) for at in range(len(pieces)))


def _item(pieces: list[tuple[str, str]], slots: list[str], at: int) -> Item:
    words, slot = pieces[at]
    if words:
        return Item(words=words)
    before = [other for other in range(at) if _is_thing(slots, other)]
    after = [thing for thing in slots[at + 1 :] if thing in THINGS]
    reach = slots[at + 1 :]
    if reach and not reach[0] and pieces[at + 1][0] in ("the", "a", "all"):
        reach = reach[1:]
    near = set(reach[: 2 if slot == "count" else 1])
    leads = bool(_NOUNISH & near) and (slot == "count" or not before)
    talked = after[:1] if leads or not before else [slots[before[-1]]]
    plural = talked[0] in PLURAL if talked else None
    after_be = at > 0 and pieces[at - 1][0].rpartition(" ")[2] in _BE
    return Item(slot=slot, plural=plural, leads=leads, after_be=after_be)


def _is_thing(slots: list[str], at: int) -> bool:
    """Whether a slot is what is talked about: a part, or a place that leads no part."""
    return slots[at] in THINGS or (
        slots[at] == "place" and not (at + 1 < len(slots) and slots[at + 1] in THINGS)
    )
