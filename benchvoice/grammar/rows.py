"""Rows of words and slots with their fillers at hand, ready to be drawn from."""

from __future__ import annotations

from itertools import repeat
from typing import NamedTuple

from benchvoice.grammar.pack import Pack
from benchvoice.grammar.readings import Said
from benchvoice.grammar.slots import Draw, Slots
from benchvoice.grammar.templates import Item, spread


class Row(NamedTuple):
    """One way through a template: its items, what draws the words of each, and its share."""

    items: tuple[Item, ...]
    draws: tuple[Draw, ...]
    weight: float


def template_rows(pack: Pack, slots: Slots) -> list[Row]:
    """Give the rows of all templates; raises GrammarError naming a template with a mistake."""
    found: list[Row] = []
    for template in pack.template:
        rows = spread(template.say)
        share = template.weight / len(rows)
        found += [Row(row, tuple(draw_of(item, slots) for item in row), share) for row in rows]
    return found


def draw_of(item: Item, slots: Slots) -> Draw:
    """Give what draws the words of an item."""
    return slots.draw(item) if item.slot else repeat(Said(item.words, None)).__next__
