"""What kind of part a name is of, as the trade's vocabulary has it: a gear, a seal, a housing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from benchvoice.follow.likeness import OF_ITSELF, stems
from benchvoice.grammar.load import trade_kinds
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.vocabulary import PartKind

SMALL = ("fastener", "seal")
"""Kinds that are not what a step of inspection is about unless it names them (common practice, no
source)."""

COMMON = ("fastener", "seal", "spring")
"""Kinds that are at almost every step."""


_OF_PARTS = OF_ITSELF | {"bore", "hole", "journal", "keyway", "passage", "spline"}
"""What a part has and is no part by itself (common practice, no source)."""


def comes_off(part: str) -> bool:
    """Whether a part is one that comes off, as far as its name tells: no case, oil or gear tooth.

    >>> [comes_off(part) for part in ("inner rotor", "gear case", "oil", "gear tooth")]
    [True, False, False, False]
    """
    return part.rsplit(maxsplit=1)[-1] not in _OF_PARTS and kind_of(part) not in (
        "housing",
        "fluid",
    )


@cache
def kind_of(part: str) -> PartKind:
    """Give the kind of a part as far as the trade's vocabulary tells."""
    return PartKinds(Outline(name="", title="", unit="", stage=()), trade_kinds()).of(part)


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
