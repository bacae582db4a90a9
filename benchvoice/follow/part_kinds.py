"""What kind of part a name is of, as the trade's vocabulary has it: a gear, a seal, a housing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from benchvoice.follow.likeness import stems
from benchvoice.grammar.load import trade_kinds
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.vocabulary import PartKind

SMALL = ("fastener", "seal")
"""Kinds that are not what a step of inspection is about unless it names them (common practice, no
source)."""

COMMON = ("fastener", "seal", "spring")
"""Kinds that are at almost every step."""


@cache
def comes_off(part: str) -> bool:
    """Whether a part is one that comes off, as far as the trade's vocabulary tells: no case or oil.

    >>> comes_off("inner rotor"), comes_off("gear case"), comes_off("oil")
    (True, False, False)
    """
    nothing_own = Outline(name="", title="", unit="", stage=())
    return PartKinds(nothing_own, trade_kinds()).of(part) not in ("housing", "fluid")


class PartKinds:
    """The kinds of the trade's parts (`trade`: by name) and of an outline's own."""

    def __init__(self, outline: Outline, trade: Mapping[str, PartKind]) -> None:
        self._kinds = {**trade, **{part.name: part.kind for part in outline.part}}
        self._of_word = {
            stems(name)[0]: kind for name, kind in self._kinds.items() if len(stems(name)) == 1
        }

    def of(self, part: str | None) -> PartKind:
        """Give the kind of a part; one that is not known is what its last word is."""
        return self._kinds.get(part or "") or self.of_word((stems(part or "") or ("",))[-1])

    def of_word(self, stem: str) -> PartKind:
        """Give the kind of the part that one word is the name of, "other" when it is none."""
        return self._of_word.get(stem, "other")
