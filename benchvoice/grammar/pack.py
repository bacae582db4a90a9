"""The grammar pack: all the words of the trade (and of one outline) as one immutable value."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from benchvoice.grammar.outline import Outline
from benchvoice.grammar.vocabulary import Action, Condition, Part, Term, Unit, VocabularyFile

FUNCTION_WORDS = frozenset(
    "a an the of off from out on in at to and or then with is are was were be been it its "
    "that this these those there by for both all each every them they everything plus also "
    "under behind between into onto inside across around near through up as who has have "
    "had which where one ones same other toward towards against over s long head wrench "
    "inch inches stack order label labelled labeled number".split()
)
"""English words that carry the structure of a remark but nothing of the trade."""

TERM_KINDS = (
    *("part", "qualifier", "place", "side", "condition", "action", "disposition"),
    *("container", "quantity", "unit", "command", "feature", "direction", "mark"),
    *("tool", "group", "relative"),
)


class Pack(VocabularyFile, frozen=True, dict=True, kw_only=True):
    """Vocabulary files merged, with the words of `outline` when there is one."""

    outline: Outline | None = None

    @cached_property
    def part_by_name(self) -> dict[str, Part]:
        """Map canonical part name to part."""
        return {part.name: part for part in self.part}

    @cached_property
    def condition_by_name(self) -> dict[str, Condition]:
        """Map canonical condition name to condition."""
        return {condition.name: condition for condition in self.condition}

    @cached_property
    def action_by_name(self) -> dict[str, Action]:
        """Map canonical action name to action."""
        return {action.name: action for action in self.action}

    @cached_property
    def unit_by_name(self) -> dict[str, Unit]:
        """Map unit name to unit."""
        return {unit.name: unit for unit in self.unit}

    @cached_property
    def said_words(self) -> frozenset[str]:
        """Every word of every way of saying a term."""
        return frozenset(
            word for _, term in self.terms() for way in term.ways for word in way.split()
        )

    def terms(self) -> Iterator[tuple[str, Term]]:
        """Yield (kind, term) for every term of every kind."""
        for kind in TERM_KINDS:
            for term in getattr(self, kind):
                yield kind, term


def plural_of(words: str) -> str:
    """Make the plural of a part name by rule: "lock washer" to "lock washers".

    >>> plural_of("bushing"), plural_of("bearing race"), plural_of("key"), plural_of("body")
    ('bushings', 'bearing races', 'keys', 'bodies')
    """
    if words.endswith("tooth"):
        return words.removesuffix("tooth") + "teeth"
    if words.endswith(("s", "x", "z", "ch", "sh")):
        return words + "es"
    if words.endswith("y") and words[-2:-1] not in "aeiou":
        return words[:-1] + "ies"
    return words + "s"


def part_forms(part: Part) -> tuple[list[str], list[str]]:
    """Give the (singular, plural) ways of saying a part."""
    singular = [part.name, *(say for say in part.say if say != part.name)]
    plural = list(part.plural) or [plural_of(say) for say in singular]
    return singular, plural
