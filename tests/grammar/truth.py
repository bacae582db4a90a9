"""Generated sentences with what they say, where that is plain from their template."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from random import Random
from typing import Any

from benchvoice.grammar.generate import with_an
from benchvoice.grammar.pack import Pack, part_forms
from benchvoice.grammar.readings import Said
from benchvoice.grammar.rows import Row, template_rows
from benchvoice.grammar.slots import Slots, drawer
from benchvoice.grammar.spoken import NUMBER_WORDS
from benchvoice.grammar.templates import THINGS, Item
from benchvoice.grammar.vocabulary import Part, Term

_PLAIN_WORDS = frozenset(
    "the a is are on in at off from out of got all to looks side into with".split()
)
"""Words of a template that add nothing but the place that they lead to."""
_LEADING = frozenset("on in at off from of into".split())
_REMOVING = ("off", "from", "out of")
_AS_THEY_ARE = frozenset(
    "count action disposition container size orientation mark tool group ordinal side measure "
    "torque stack".split()
)
_FIELD = {"torque": "measure"}
_NOUNS = ("part", "place")
_CLASHING = ("part", "place", "side", "condition", "disposition")
"""Kinds that are mixed up when one word is of two of them ("a groove" is a place or a fault)."""


def generate_with_truth(
    pack: Pack, count: int, seed: int = 1
) -> Iterator[tuple[str, dict[str, Any]]]:
    """Draw `count` sentences of one finding with the fields that the finding must have.

    The fields have the published names (`count`, `part`, `measure` ...); only
    templates whose meaning is plain are drawn from.
    """
    rng = Random(seed)
    return islice(_true_talk(template_rows(pack, Slots(pack, rng)), pack, rng), count)


def _true_talk(rows: list[Row], pack: Pack, rng: Random) -> Iterator[tuple[str, dict[str, Any]]]:
    pick = drawer([Said("", row, row.weight) for row in rows], rng)
    truths = Truths(pack)
    while True:
        row: Row = pick().value
        said = [draw() for draw in row.draws]
        truth = truths.plain(row.items, said)
        if truth is not None:
            yield with_an(" ".join(one.words for one in said)), truth


class Truths:
    """Gives the fields that a finding must have, by the conventions of the project."""

    def __init__(self, pack: Pack) -> None:
        senses: dict[str, set[tuple[str, str]]] = defaultdict(set)
        for kind, term in pack.terms():
            ways = (
                [way for form in part_forms(term) for way in form] if isinstance(term, Part) else []
            )
            for way in (*ways, *term.ways):
                senses[way].add((kind, term.name))
        self._doubtful = frozenset(way for way, meant in senses.items() if _is_doubtful(meant))
        self._nouns = frozenset(
            w for w, meant in senses.items() if {k for k, _ in meant} & {*_NOUNS}
        )
        self._qualifiers = _names(pack.qualifier)
        self._places = _names(pack.place)
        self._parts = pack.part_by_name
        self._known = frozenset(senses)

    def plain(self, items: Sequence[Item], said: Sequence[Said]) -> dict[str, Any] | None:
        """Give the fields of the one finding; None when its meaning is not plain."""
        truth: dict[str, Any] = {}
        conditions: list[str] = []
        before, modifier = "", ""
        for at, (item, one) in enumerate(zip(items, said, strict=True)):
            if item.slot == "correction":
                _take_back(truth, conditions, items[at + 1].slot)
                continue
            if not item.slot:
                if not set(item.words.split()) <= _PLAIN_WORDS:
                    return None
                before = " ".join(word for word in item.words.split() if word not in ("the", "a"))
                continue
            if at and _runs_on(items[at - 1], said[at - 1].words, item, one.words):
                return None
            if one.words in self._doubtful or {"mil", "mils"} & set(one.words.split()):
                return None
            if item.slot == "condition":
                conditions.append(one.value)
            elif not self._put(truth, item, one, before, modifier):
                return None
            leads = item.leads and item.slot in ("place", "qualifier", "side")
            before, modifier = "", one.words if leads else ""
        return _completed(truth, conditions) if before in ("", "side") else None

    def _put(
        self, truth: dict[str, Any], item: Item, one: Said, before: str, modifier: str
    ) -> bool:
        """Put what a slot says where it belongs; false when that is not plain."""
        if item.slot in THINGS or item.slot == "place":
            return self._put_thing(truth, item, one, before, modifier)
        if item.slot == "qualifier":
            if one.words in self._nouns:  # "clutch" before a bolt: the clutch pack
                truth["place"] = self._places.get(one.words, one.value)
            else:
                truth["qualifier"] = one.value
            return True
        field = _FIELD.get(item.slot, item.slot)
        if item.slot not in _AS_THEY_ARE or field in truth:
            return False
        truth[field] = one.value
        return True

    def _put_thing(
        self, truth: dict[str, Any], item: Item, one: Said, before: str, modifier: str
    ) -> bool:
        if modifier and self._joins(modifier.split(), one.words):
            return False
        leading = before.rpartition(" ")[2] in _LEADING
        field = "place" if leading or (item.slot == "place" and item.leads) else "part"
        name = one.value
        if item.slot in THINGS and "qualifier" in truth:
            name = f"{truth.pop('qualifier')} {name}"
        elif (
            modifier
            and item.slot in ("part", "parts")
            and "place" in truth
            and (self._parts[one.value].kind != "fastener")
        ):
            place = truth.pop("place")  # a noun before a part is part of its name
            name = f"{self._qualifiers.get(modifier, place)} {name}"
        if field in truth:
            return False
        truth[field] = name
        if leading and before.endswith(_REMOVING):
            truth["removed"] = True
        return True

    def _joins(self, modifier: list[str], words: str) -> bool:
        """Whether words before a part and it make another name ("side" "plate", "port" "side")."""
        across = f"{' '.join(modifier)} {words.partition(' ')[0]}"
        whole = (" ".join([*modifier[at:], words]) for at in range(len(modifier)))
        return across in self._known or any(name in self._known for name in whole)


def _names(terms: Iterable[Term]) -> dict[str, str]:
    """Map each way of saying to the name."""
    return {way: term.name for term in terms for way in term.ways}


def _is_doubtful(meant: set[tuple[str, str]]) -> bool:
    clashing = {(kind, name) for kind, name in meant if kind in _CLASHING}
    kinds = {kind for kind, _ in clashing}
    return (
        len({name for _, name in clashing}) > 1
        or len(kinds - {*_NOUNS}) + any(kind in _NOUNS for kind in kinds) > 1
    )


def _runs_on(last: Item, before: str, item: Item, words: str) -> bool:
    """Whether two numbers side by side make a third ("three" "quarter twenty", "bag" "six")."""
    if last.slot == "container" and item.slot == "count":
        return before.rsplit(maxsplit=1)[-1] not in NUMBER_WORDS
    if last.slot != "count" or item.slot != "size":
        return False
    return before.endswith("ty") or words.split(maxsplit=1)[0] in ("half", "quarter")


def _take_back(truth: dict[str, Any], conditions: list[str], slot: str) -> None:
    """Drop what is said anew after a correction."""
    if slot == "condition" and conditions:
        conditions.pop()
    if slot == "qualifier":
        truth.pop("place", None)
    truth.pop("part" if slot in THINGS else _FIELD.get(slot, slot), None)


def _completed(truth: dict[str, Any], conditions: list[str]) -> dict[str, Any]:
    if conditions:
        truth["condition"] = conditions[0]
        if len(set(conditions)) > 1:
            truth["conditions"] = tuple(dict.fromkeys(conditions))
    if truth.pop("removed", False) and "measure" not in truth:
        truth.setdefault("action", "removed")
    if "measure" in truth:
        truth.setdefault("action", "measured")
    return truth
