"""The pack's phrases as a word trie, and text cut into lexemes with it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from benchvoice.grammar.pack import Pack, part_forms, plural_of
from benchvoice.grammar.vocabulary import Part, Term, Unit
from benchvoice.language import numbers
from benchvoice.language.numbers import Number
from benchvoice.language.structure import STRUCTURE
from benchvoice.language.threads import is_inch_thread

TYPED_THREAD = re.compile(r"#?\d+(?:/\d+)?-\d+|m\d+(?:\.\d+)?(?:\s?x\s?\d+(?:\.\d+)?)*")

_BEFORE_PRONOUN = frozenset({"qualifier", "relative", "side"})
_NOUNS = frozenset({"part", "place", "qualifier", "relative", "condition", "unit"})
_NAMES = frozenset({"part", "place", "qualifier", "quantity", "container", "feature"})
_KEPT = _NAMES - {"quantity"}
_GOES_ON = frozenset({"conj", "prep", "disposition"})
_CHECKS = frozenset({"tested", "checked", "inspected"})
"""What is done of which an "okay" tells the result."""
_SAID_OF = frozenset({"be", "part", "place", "unit"})
_NAMED = frozenset({"part", "container"})


class Lexeme(NamedTuple):
    """A stretch of tokens that the lexicon knows (or one token that it does not).

    `senses` maps kind to what it stands for: a canonical name for terms, a
    `Number` for "number".  Empty for an unknown word.
    """

    senses: dict[str, Any]
    start: int
    end: int


def senses_at(lexemes: Sequence[Lexeme], at: int) -> dict[str, Any]:
    """Give the senses of the lexeme at a position; none past the last."""
    return lexemes[at].senses if at < len(lexemes) else {}


class Sense(NamedTuple):
    """One meaning of a phrase: canonical `name`, its `term`, and whether it is a plural."""

    name: str
    term: Term | None = None
    plural: bool = False


_ONE = Sense("one")


class Lexicon:
    """All phrases of a pack; immutable after construction."""

    def __init__(self, pack: Pack) -> None:
        self._root: dict[str, Any] = {}
        self.typed = {short: tuple(words.split()) for short, words in pack.typed.items()}
        for kind, words in STRUCTURE.items():
            for word in words:
                self._add(word, kind, Sense(word))
        for kind, entries in (("filler", pack.filler), ("correction", pack.correction)):
            for filler in entries:
                for say in filler.say:
                    self._add(say, kind, Sense(say))
        for filler in pack.negation:
            for say in filler.say:
                self._add(say, "not", Sense(say))
        short = _short_names(pack)
        for kind, term in pack.terms():
            if kind == "command":
                continue
            for say, plural in _ways(kind, term):
                name = short.get(say, term.name) if kind == "part" else term.name
                self._add(say, kind, Sense(name, term, plural))

        for word, sense in _own_heads(pack):
            if word not in self._root:
                self._add(word, "part", sense)

    def match(self, tokens: Sequence[str], start: int, stop: int | None = None) -> Lexeme | None:
        """Find the longest phrase at `start`, up to `stop`."""
        node: dict[str, Any] | None = self._root
        best, end = None, start
        for at in range(start, len(tokens) if stop is None else stop):
            node = node.get(tokens[at])  # type: ignore[union-attr]
            if node is None:
                break
            senses = node.get("")
            if senses is not None:
                best, end = senses, at + 1
        return None if best is None else Lexeme(best, start, end)

    def lexemes(self, tokens: Sequence[str]) -> list[Lexeme]:
        """Cut tokens into lexemes, dropping fillers; longest phrase or number wins."""
        result: list[Lexeme] = []
        at, size, root = 0, len(tokens), self._root
        while at < size:
            token = tokens[at]
            node, found = root.get(token), None
            if node is not None:
                if at + 1 < size and tokens[at + 1] in node:
                    found = self.match(tokens, at)
                    if found is not None and found.end > at + 1:
                        found = self._shortened(found, tokens, result)
                elif "" in node:
                    found = Lexeme(node[""], at, at + 1)
            if token in numbers.STARTERS or token[0] in "0123456789.":
                found = self._or_number(found, tokens, at, result)
            if found is None:
                found = Lexeme(self._other(tokens, at), at, at + 1)
            if "filler" not in found.senses or not self._means_nothing(found, result, tokens):
                result.append(found)
            at = found.end
        return result

    def _other(self, tokens: Sequence[str], at: int) -> dict[str, Any]:
        """Give the senses of what is no phrase: a typed thread, a broken off word, nothing."""
        token = tokens[at]
        if TYPED_THREAD.fullmatch(token):
            return {"thread": token}
        after = tokens[at + 1] if at + 1 < len(tokens) else ""
        if len(token) > 2 and after.startswith(token) and after in self._root:
            return {"broken": Sense(token)}  # "bear bearing"
        return {}

    def _shortened(self, found: Lexeme, tokens: Sequence[str], before: list[Lexeme]) -> Lexeme:
        """Give the last words of a phrase back to a longer name that starts with them.

        "one set" before "screw", "a taper" before "pin", "shaft end" before "play".
        """
        senses, start, end = found
        if "relative" in senses and tokens[end - 1] == "one" and self._counts(tokens, end, before):
            return self.match(tokens, start, end - 1) or found
        verb = "action" in senses and bool(before) and "article" in before[-1].senses
        first = self.match(tokens, start, start + 1) if verb else None
        if first is not None and not _NAMES.isdisjoint(first.senses):
            return first  # "off the back in tin two"
        if tokens[end - 1] not in self._root:
            return found
        after = self.match(tokens, end - 1)
        if after is None or after.end <= end:
            return found
        anew = tokens[start] == "a" and end == start + 2  # "a score mark"
        if (
            anew
            or ("quantity" in after.senses and "part" not in senses)
            or (not _NAMED.isdisjoint(after.senses) and _KEPT.isdisjoint(senses))
        ):
            return self.match(tokens, start, end - 1) or found
        return found

    def _counts(self, tokens: Sequence[str], at: int, before: list[Lexeme]) -> bool:
        """Whether the "one" of "short one" counts: "two bolts short one long".

        After several it can be no "short one", after one only where it is set against another.
        """
        after = self.match(tokens, at) if at < len(tokens) else None
        if after is not None and "part" in after.senses:
            return True  # "short one spring" is one too few
        counted = before[-2:-1] if before and "part" in before[-1].senses else before[-1:]
        number = counted[0].senses.get("number") if counted else None
        if number is None or number.kind != "cardinal" or at == len(tokens):
            return False
        return number.value > 1 or (after is not None and "relative" in after.senses)

    def _or_number(
        self, found: Lexeme | None, tokens: Sequence[str], at: int, before: list[Lexeme]
    ) -> Lexeme | None:
        """Take a number at a position instead of a phrase that is no longer."""
        number = self._number(tokens, at, before)
        if number is None or (found is not None and number.end < found.end):
            return found
        one = number.end == at + 1 and tokens[at] == "one" and before
        if one and self._stands_for_noun(before[-1], tokens, at):
            return Lexeme({"it": _ONE}, at, at + 1)
        return Lexeme({"number": number}, at, number.end)

    def _number(self, tokens: Sequence[str], at: int, before: list[Lexeme]) -> Number | None:
        number = numbers.read_number(tokens, at)
        if number is None or number.end >= len(tokens):
            return number
        if number.kind == "digits" and not self._one_value(tokens, number):
            number = numbers.cardinal(tokens, at)  # "one two three studs" is counting aloud
            if number is None or number.end >= len(tokens):
                return number
        if tokens[number.end] in numbers.FROM_TEN:
            return self._together(tokens, at, number)
        if number.kind == "cardinal":
            last = before[-1].senses.get("number") if before else None
            pitch = numbers.TENS.get(tokens[number.end - 2], 0) if number.end - at == 2 else 0
            if pitch and last is not None and last.kind == "fraction":
                return self._pitch(tokens, number, last, pitch)
            return numbers.split_before_fraction(tokens, at, number) or number
        return number

    def _pitch(self, tokens: Sequence[str], number: Number, nominal: Number, tens: int) -> Number:
        """Read "quarter twenty three quarter long" as a thread and a length."""
        text = numbers.fraction_text(nominal.value)
        if is_inch_thread(text, int(number.value)) or not is_inch_thread(text, tens):
            return number
        rest = numbers.read_number(tokens, number.end - 1)
        if rest is None or rest.kind != "fraction":
            return number
        return number._replace(value=tens, end=number.end - 1)

    def _together(self, tokens: Sequence[str], at: int, number: Number) -> Number:
        """Read "one twenty five" as one value before a unit; as a doubt if it may be a range."""
        if number.kind == "fraction":
            return self._counted_thread(tokens, at, number)
        together = numbers.read_run_together(tokens, at)
        if together is None or together.end <= number.end:
            return number
        named = self.match(tokens, number.end)
        if named is not None and named.end > number.end + 1 and "part" in named.senses:
            return number  # "four ninety degree fittings"
        end = together.end
        if end + 1 < len(tokens) and tokens[end] in ("to", "through"):
            high = numbers.read_run_together(tokens, end + 1)
            end = high.end if high else end
        unit = self.unit_at(tokens, end)
        if unit is None or (unit.dimension == "length" and unit.name != "thou"):
            return number
        second = together.value - 100 * number.value
        if end == together.end and number.value < second <= 2 * number.value:
            readings = f"{together.value} {unit.name} | {number.value} to {second} {unit.name}"
            return together._replace(kind="doubt", text=readings)
        return together

    @staticmethod
    def _counted_thread(tokens: Sequence[str], at: int, number: Number) -> Number:
        """Read "three quarter twenty" as three of 1/4-20: 3/4-20 is no thread."""
        pitch = numbers.cardinal(tokens, number.end)
        top, bottom = number.value.numerator, number.value.denominator
        if pitch is None or top == 1 or number.end != at + 2 or tokens[at + 1].endswith("s"):
            return number
        if is_inch_thread(f"{top}/{bottom}", int(pitch.value)):
            return number
        if not is_inch_thread(f"1/{bottom}", int(pitch.value)):
            return number
        return Number(top, at + 1, "cardinal")

    def _means_nothing(self, found: Lexeme, before: list[Lexeme], tokens: Sequence[str]) -> bool:
        """Whether a lexeme is a filler; "okay" is a condition only at the end of its clause."""
        if "condition" not in found.senses:
            return len(found.senses) == 1
        done = before[-1].senses.get("action") if before else None
        if not before or (_SAID_OF.isdisjoint(before[-1].senses) and not _checks(done)):
            return True
        following = self.match(tokens, found.end) if found.end < len(tokens) else None
        after = following.senses if following else {}
        if found.end == len(tokens) or not _GOES_ON.isdisjoint(after):
            return False
        if "be" in before[-1].senses:
            return True
        part, other = before[-1].senses.get("part"), after.get("part")
        return part is None or other is None or part.name == other.name  # "sun gear okay ring gear"

    def _stands_for_noun(self, before: Lexeme, tokens: Sequence[str], at: int) -> bool:
        """Whether a "one" after this is no number: "the inner one", "that one"."""
        if "qualifier" in before.senses and tokens[before.start - 1] in ("the", "that"):
            return True
        after = self.match(tokens, at + 1) if at + 1 < len(tokens) else None
        if after is not None and _NOUNS & after.senses.keys():
            return False
        if "article" in before.senses:
            return tokens[before.start] in ("this", "that", "the")
        return bool(_BEFORE_PRONOUN & before.senses.keys()) and "part" not in before.senses

    def _one_value(self, tokens: Sequence[str], digits: Number) -> bool:
        """Whether digits one by one are one number: with an "oh" in it, or a unit after it."""
        said = tokens[digits.end - len(digits.text or "") : digits.end]
        return bool({"oh", "zero"} & set(said)) or self.unit_at(tokens, digits.end) is not None

    def unit_at(self, tokens: Sequence[str], at: int) -> Unit | None:
        """Give the unit of measure said at a position, if any."""
        found = self.match(tokens, at) if at < len(tokens) else None
        sense = found.senses.get("unit") if found else None
        term = sense.term if sense else None
        return term if isinstance(term, Unit) else None

    def _add(self, phrase: str, kind: str, sense: Sense) -> None:
        node = self._root
        for word in phrase.split():
            node = node.setdefault(word, {})
        node.setdefault("", {}).setdefault(kind, sense)


def _short_names(pack: Pack) -> dict[str, str]:
    """Map ways of saying a part that are short for parts of the outline to the short name.

    Where there are an input and an output shaft seal, "both shaft seals" are these two, whatever
    the trade calls a shaft seal elsewhere.
    """
    if pack.outline is None:
        return {}
    own = {item.part for step in pack.outline.steps() for item in step.hardware}
    found: dict[str, str] = {}
    for part in pack.part:
        for says in part_forms(part):
            for one, say in zip(part_forms(part)[0], says, strict=False):
                longer = any(name.endswith(f" {one}") for name in own)
                if longer and one != part.name and not part.name.endswith(f" {one}"):
                    found[say] = one
    return found


def _own_heads(pack: Pack) -> Iterable[tuple[str, Sense]]:
    """Give the last word of a part of the outline, where it is the last of one part only.

    "Insert" is its coupling insert, where the word by itself means nothing in the trade.
    """
    own = (
        {item.part for step in pack.outline.steps() for item in step.hardware}
        if pack.outline
        else ()
    )
    longer = [part for part in pack.part if part.name in own and " " in part.name]
    heads = [part.name.rpartition(" ")[2] for part in longer]
    for part, head in zip(longer, heads, strict=True):
        if heads.count(head) == 1:
            yield head, Sense(part.name, part)
            yield plural_of(head), Sense(part.name, part, plural=True)


def _checks(done: Sense | None) -> bool:
    return done is not None and done.name in _CHECKS


def _ways(kind: str, term: Term) -> Iterable[tuple[str, bool]]:
    if isinstance(term, Part):
        singular, plural = part_forms(term)
        yield from ((say, False) for say in singular)
        yield from ((say, True) for say in plural if say not in singular)
        return
    if kind != "unit":
        yield term.name, False
    yield from ((say, False) for say in term.say)
    if kind == "container":
        yield from ((say + "s", True) for say in (term.name, *term.say))
