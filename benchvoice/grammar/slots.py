"""What the slots of the templates are filled with: pools of ways of saying, drawn by weight."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate

from benchvoice.grammar.pack import Pack, part_forms, plural_of
from benchvoice.grammar.readings import Said, counts, readings, sizes, unit_words
from benchvoice.grammar.spoken import cardinal, contracted, ordinal
from benchvoice.grammar.templates import Item
from benchvoice.grammar.vocabulary import Filler, Part, Term, Unit

Draw = Callable[[], Said]
"""Gives a new filler each time."""

LABEL_LETTERS = "bcd"
"""Letters that a container may be called by."""
_BULK = 256
_CANONICAL = 0.55
"""Share of a term's own name among the ways of saying it."""
_FINITE = frozenset(
    "is are has have had was were been came come comes coming went goes go gets got looks look "
    "looking needs need wants will can gone took take pull pulled put lift let reads".split()
)
_SINGULAR = frozenset(
    "is has was comes goes needs wants reads measures looks turns runs spins feels moves slides "
    "catches rattles binds stays".split()
)
_PLURAL = frozenset({"are", "have", "come", "go", "need", "look", "stay", "were"})
_AFTER_READING = frozenset({"thick", "wide", "high", "deep", "across", "proud", "stand proud"})
_BY_KIND = {"fastener": "fastener", "fasteners": "fastener"}
_SAID_ALONE = ("action", "condition", "disposition")
_CORRECTED = 0.03
"""Share of the readings that are taken back and said again."""
_ACTIVE = frozenset("took take pull lift put press push drive drove drew let ran knock".split())
_FAULTS = frozenset("a an some signs got".split())


def drawer(pool: Sequence[Said], rng: random.Random) -> Draw:
    """Draw from a pool by weight, many at a time for speed."""
    cumulative = list(accumulate(said.weight for said in pool))

    def draws() -> Iterator[Said]:
        while True:
            yield from rng.choices(pool, cum_weights=cumulative, k=_BULK)

    return draws().__next__


class Slots:
    """The fillers of a pack's slots; `draw` is the same pool again for the same need."""

    def __init__(self, pack: Pack, rng: random.Random) -> None:
        self.pack = pack
        self.rng = rng
        self._drawers: dict[tuple[object, ...], Draw] = {}

    def draw(self, item: Item) -> Draw:
        """Give the drawer for a slot as it stands in a template."""
        key = (item.slot, item.plural, item.leads, item.after_be)
        if key not in self._drawers:
            made = _MAKERS.get(item.slot)
            self._drawers[key] = made(self) if made else drawer(self._pool(item), self.rng)
        return self._drawers[key]

    def _pool(self, item: Item) -> list[Said]:
        if item.slot in ("part", "parts", "fastener", "fasteners"):
            return self._parts(item)
        if item.slot == "count":
            if item.leads and item.plural is False:
                return [Said("one", 1, 4.0), Said("a", 1, 1.0)]
            return counts(joined=item.leads)
        if item.slot == "size":
            return sizes(leads=item.leads) + self._relative()
        if item.slot == "ordinal":
            last = [Said("last", -1, 2.0)]
            return last + [Said(ordinal(n), n, 8.0 / n) for n in range(1, 21)]
        if item.slot in ("correction", "negation"):
            return said_of_fillers(getattr(self.pack, item.slot))
        pool = forms(getattr(self.pack, item.slot), named=item.slot != "group")
        if item.slot == "place" and item.leads:
            pool = [said for said in pool if said.words == said.value or said.words[-1] != "s"]
        if item.slot in _SAID_ALONE:
            ways = {said.words for said in pool}
            pool = [said for said in pool if _fits(said, item, ways)]
        return pool

    def _parts(self, item: Item) -> list[Said]:
        kind = _BY_KIND.get(item.slot)
        parts = [part for part in self.pack.part if kind in (None, part.kind)]
        return [said for part in parts for said in said_of_part(part, item.slot.endswith("s"))]

    def _relative(self) -> list[Said]:
        names = ("short", "long", "small", "large", "medium")
        terms = [term for term in self.pack.relative if term.name in names]
        return [Said(term.name, {"relative": term.name}, 2 * term.weight) for term in terms]

    def measure(self) -> Draw:
        """Draw a quantity with a reading in one of its units."""
        reading = {unit.name: self._reading(unit) for unit in self.pack.unit}
        units_of = {
            quantity.name: units
            for quantity in self.pack.quantity
            if (units := [unit for unit in quantity.units if unit in reading])
        }
        read = [quantity for quantity in self.pack.quantity if quantity.name in units_of]
        quantities = drawer(forms(read), self.rng)
        correction = self.draw(Item(slot="correction"))

        def draw() -> Said:
            quantity = quantities()
            units = units_of[quantity.value]
            unit = units[int(len(units) * self.rng.random() ** 2)]
            said = reading[unit]()
            if self.pack.correction and self.rng.random() < _CORRECTED:
                again = reading[unit]()
                said = again._replace(words=f"{said.words} {correction().words} {again.words}")
            return measured(quantity.words, quantity.value, said, self.rng)

        return draw

    def torque(self) -> Draw:
        """Draw a reading in a unit of torque, without the word."""
        units = [unit for unit in self.pack.unit if unit.dimension == "torque"]
        draws = [self._reading(unit) for unit in units]
        pick = drawer([Said("", draws[at], unit.weight) for at, unit in enumerate(units)], self.rng)

        def draw() -> Said:
            words, value, _ = pick().value()
            return Said(words, {"quantity": "torque", **value})

        return draw

    def _reading(self, unit: Unit) -> Draw:
        numbers, said = drawer(readings(unit), self.rng), drawer(unit_words(unit), self.rng)
        return lambda: with_unit(numbers(), said())

    def container(self) -> Draw:
        """Draw a container, mostly with a number on it."""
        kinds = drawer(forms(self.pack.container), self.rng)
        labelled = {c.name for c in self.pack.container if c.labelled}
        labels = [Said(cardinal(n), str(n), 12.0 / n) for n in range(1, 25)]
        labels += [Said(letter, letter, 0.5) for letter in LABEL_LETTERS]
        labels += [Said(f"number {cardinal(n)}", str(n), 0.4) for n in range(1, 10)]
        labels += [Said(side, side, 0.6) for side in ("left side", "right side")]
        label = drawer(labels, self.rng)

        def draw() -> Said:
            kind = kinds()
            if kind.value not in labelled:
                return Said(f"the {kind.words}", kind.value)
            if self.rng.random() < 0.12:
                return Said(f"a {kind.words}", kind.value)
            name = label()
            return Said(f"{kind.words} {name.words}", f"{kind.value} {name.value}")

        return draw

    def orientation(self) -> Draw:
        """Draw a feature and where it faces."""
        features = drawer(forms(self.pack.feature), self.rng)
        directions = drawer(forms(self.pack.direction), self.rng)
        things = drawer(self._parts(Item(slot="part")), self.rng)

        def draw() -> Said:
            feature, direction = features(), directions()
            words, value = (
                f"{feature.words} {direction.words}",
                f"{feature.value} {direction.value}",
            )
            if direction.value.endswith("toward"):
                thing = things()
                return Said(f"{words} the {thing.words}", f"{value} {thing.value}")
            return Said(words, value)

        return draw

    def stack(self) -> Draw:
        """Draw an order of three to five parts, plates mostly."""
        plates = [part for part in self.pack.part if part.kind == "plate"] or list(self.pack.part)
        others = [part for part in self.pack.part if part.kind in ("bearing", "spring", "seal")]
        flat = drawer([s for part in plates for s in said_of_part(part, False)], self.rng)
        other = drawer(
            [s for part in others or plates for s in said_of_part(part, False)], self.rng
        )

        def draw() -> Said:
            one, two, last = flat(), flat(), other()
            row = [one, two] * self.rng.choice((1, 2))
            joint = self.rng.choice((" ", " then ", " then the "))
            words = joint.join(said.words for said in row)
            return Said(f"{words} then the {last.words}", tuple(s.value for s in (*row, last)))

        return draw


def forms(terms: Sequence[Term], *, named: bool = True) -> list[Said]:
    """Give all ways of saying terms; a term's own name is the likeliest."""
    pool: list[Said] = []
    for term in terms:
        ways = term.ways if named else term.say
        shares = _shares(len(ways))
        pool += [Said(w, term.name, term.weight * s) for w, s in zip(ways, shares, strict=True)]
    return pool


def said_of_fillers(fillers: Sequence[Filler]) -> list[Said]:
    """Give small words in all ways, also the short ones ("that's")."""
    return [
        Said(way, say, 1.0 if way == say else 0.7)
        for filler in fillers
        for say in filler.say
        for way in contracted(say)
    ]


def said_of_part(part: Part, plural: bool) -> list[Said]:
    """Give the ways of saying a part, in the singular or the plural."""
    ways = part_forms(part)[plural]
    shares = _shares(len(ways))
    return [Said(w, part.name, part.weight * s) for w, s in zip(ways, shares, strict=True)]


def said_of_name(pack: Pack, name: str, plural: bool) -> list[Said]:
    """Give the ways of saying what an outline names, which may have qualifiers before it."""
    part = pack.part_by_name.get(name)
    if part is not None:
        return said_of_part(part, plural)
    return [Said(plural_of(name) if plural else name, name)]


def with_unit(number: Said, unit: Said) -> Said:
    """Put a number and a unit together."""
    words = f"{number.words} {unit.words}"
    if number.value == 0.5 and number.words in ("half", "a half"):
        words = f"half a {unit.words}"
    if isinstance(number.value, tuple):
        low, high = number.value
        return Said(words, {"value": low, "high": high, "unit": unit.value})
    return Said(words, {"value": number.value, "unit": unit.value})


def measured(words: str, quantity: str, reading: Said, rng: random.Random) -> Said:
    """Put a quantity and a reading together in one of the ways they are said."""
    value = {"quantity": quantity, **reading.value}
    at = rng.random()
    if words in _AFTER_READING or at < 0.2:
        return Said(f"{reading.words} {words}", value)
    joint = " " if at < 0.6 else " is " if at < 0.85 else " of "
    return Said(f"{words}{joint}{reading.words}", value)


def _fits(one: Said, item: Item, ways: set[str]) -> bool:
    """Whether a verb or adjective suits what stands around it; rough, by its words.

    `ways` are all that may stand there: what is also said with "a" or an "s" is a noun.
    """
    said = set(one.words.split())
    first = one.words.partition(" ")[0]
    if item.leads:
        if first in _FINITE & (_SINGULAR | _PLURAL) or said & {"it", "them", "one"}:
            return False
        if item.slot == "condition":
            return not _is_fault(one.words, ways) and one.words.count(" ") < 2
        return item.slot != "action" or one.words not in ("off", "out", "back in", "back on")
    if item.after_be and (
        first in _FINITE | _SINGULAR or (item.slot == "condition" and _is_fault(one.words, ways))
    ):
        return False
    if item.slot == "action" and (first in _ACTIVE or _is_order(one)):
        return False
    if item.plural and (first in _SINGULAR or "it" in said):
        return False
    return item.plural is not False or not (first in _PLURAL or said & {"them", "ones"})


def _is_fault(words: str, ways: set[str]) -> bool:
    """Whether a condition is said as a thing that a part has ("a crack", "cracks")."""
    forms_of_it = {f"a {words}", f"{words}s", words.removesuffix("s") if words[-1] == "s" else ""}
    return words.partition(" ")[0] in _FAULTS or bool(forms_of_it & ways)


def _is_order(one: Said) -> bool:
    """Whether an action is said as an order ("remove", "tap" for "removed", "tapped")."""
    pasts = (f"{one.words}d", f"{one.words}ed", f"{one.words}{one.words[-1]}ed")
    return one.value in pasts


def _shares(ways: int) -> list[float]:
    rest = ways - 1
    return [_CANONICAL, *[(1 - _CANONICAL) / rest] * rest] if rest else [1.0]


_MAKERS: dict[str, Callable[[Slots], Draw]] = {
    "measure": Slots.measure,
    "torque": Slots.torque,
    "container": Slots.container,
    "orientation": Slots.orientation,
    "stack": Slots.stack,
}
