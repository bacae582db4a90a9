"""Hands-free commands: a command counts only when it is the whole of what was said."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from rapidfuzz import fuzz, process

from benchvoice.grammar.pack import Pack, part_forms
from benchvoice.language.numbers import read_number

_SURE_STEP = 80.0
"""Likeness (0 to 100) from which words after "start" or "go to" are taken as a step's name."""


_BETWEEN = frozenset("the of off from on in for".split())
"""Small words between the names of a part and its place."""
_PARTICLES = frozenset("up off out in on down over".split())


_SMALL = frozenset("the a an her him it this that these".split())
"""Words that make no other step of a step's name."""
_IT = frozenset({"her", "him", "this"})
"""What the unit is called for "it": "putting her back together"."""
_NOW = frozenset("next now then".split())
_AT_IT = frozenset("right okay so now then on onto to with doing do".split())
"""What is said before or after the name of a step that is gone on to: "right, the pump next"."""


def doing(word: str) -> tuple[str, ...]:
    """Give a word, and the verb that it may be a form of.

    >>> doing("splitting"), doing("draining"), doing("pump")
    (('splitting', 'splitt', 'split', 'splitte'), ('draining', 'drain', 'draine'), ('pump',))
    """
    stem = word.removesuffix("ing")
    if stem == word or len(stem) < _VERB:
        return (word,)
    single = (stem[:-1],) if stem[-1] == stem[-2] else ()
    return (word, stem, *single, f"{stem}e")


_VERB = 3
"""No verb of a step's name is shorter."""


class Command(NamedTuple):
    """A command said: `number` and `words` are what it takes, when it takes something.

    `names` tells that the words name a part or a container, to be understood as in a remark.
    """

    name: str
    number: int | None = None
    words: str | None = None
    names: bool = False


class StepNamed(NamedTuple):
    """A step of the outline as it was named, and the parts that come off in it."""

    name: str
    parts: frozenset[str]


class _Way(NamedTuple):
    start: list[str]
    name: str
    takes: str


class Commands:
    """All ways of saying the commands of a pack."""

    def __init__(self, pack: Pack) -> None:
        self._whole: dict[str, str] = {}
        self._open: dict[str, list[_Way]] = {}
        self._longest = 0
        for command in pack.command:
            for say in (command.name, *command.say):
                words = say.split()
                self._longest = max(self._longest, len(words))
                if words[-1].startswith("{"):
                    words.pop()
                elif not command.takes or words[-1] not in ("to", "the", "is", "it", "that"):
                    self._whole.setdefault(say, command.name)
                if command.takes:
                    ways = self._open.setdefault(words[0], [])
                    ways.append(_Way(words, command.name, command.takes))
        for ways in self._open.values():
            ways.sort(key=lambda way: -len(way.start))
        self._first = frozenset(say.partition(" ")[0] for say in (*self._whole, *self._open))
        self._steps = _step_names(pack)
        self._shortly: dict[tuple[str, ...], str] = {}
        for name in self._steps:
            short = tuple(word for word in name.split() if word not in _SMALL)
            self._shortly.setdefault(short, name)
        for shorter, names in _without_one(self._shortly).items():
            if len(names) == 1:
                self._shortly.setdefault(shorter, names[0])
        self._step_words = frozenset(frozenset(name.split()) for name in self._steps)
        self._nouns = _noun_words(pack)
        self._named = {"container": _container_words(pack), "part": _part_words(pack)}

    def read(self, tokens: Sequence[str]) -> Command | None:
        """Read a command; None when the tokens are something else."""
        if len(tokens) > 1 and tokens[0] == "right" and "right" not in self._first:
            return self.read(tokens[2 if tokens[1] == "," else 1 :])  # "right, next step"
        if not tokens or tokens[0] not in self._first:
            return None
        words = [token for token in tokens if token != ","]
        name = None
        if len(words) <= 2 * self._longest:
            name = self._whole.get(" ".join(words)) or self._twice(words)
        if name is None and _IT & set(words):
            name = self._whole.get(" ".join("it" if word in _IT else word for word in words))
        if name is not None:
            return Command(name)
        for way in self._open.get(words[0], ()):
            length = len(way.start)
            if len(words) > length and words[:length] == way.start:
                found = self._argument(way, words[length:])
                if found is not None:
                    return found
        return None

    def may_start(self, word: str) -> bool:
        """Whether a command may begin with a word."""
        return word in self._first

    def step_named(self, tokens: Sequence[str]) -> StepNamed | None:
        """Give the step that is named and nothing else said: "strip the pump", "covers on next"."""
        words = [token for token in tokens if token != "," and token not in _SMALL]
        while words and words[-1] in _NOW:
            words.pop()
        while words and words[0] in _AT_IT:
            del words[0]
        names = [self._shortly.get((way, *words[1:])) for way in doing(words[0])] if words else []
        name = next((one for one in names if one is not None), None)
        return None if name is None else StepNamed(name, self._steps[name])

    def _twice(self, words: list[str]) -> str | None:
        """ "go back go back", "yeah yes", "what is what is next"."""
        for cut in range(1, len(words)):
            first = self._whole.get(" ".join(words[:cut]))
            if first is not None and first == self._whole.get(" ".join(words[cut:])):
                return first
            if words[:cut] == words[cut : 2 * cut]:
                name = self._whole.get(" ".join(words[cut:]))
                if name is not None:
                    return name
        return None

    def _argument(self, way: _Way, rest: list[str]) -> Command | None:
        if way.takes == "step":
            return self._step(way, rest)
        if way.takes in self._named:
            return self._name(way, rest)
        if way.takes == "words":
            return Command(way.name, words=" ".join(rest))
        number = read_number(rest, 0)
        if number is None or number.end != len(rest) or number.value.denominator != 1:
            return None
        return Command(way.name, number=int(number.value))

    def _name(self, way: _Way, rest: list[str]) -> Command | None:
        """A container's words begin with what it is; a part's are names, one of them a part's."""
        words = rest[1:] if rest[0] == "the" else rest
        known = self._named[way.takes]
        if way.takes == "container":
            if not words or words[0] not in known:
                return None
        elif known.isdisjoint(words) or not self._nouns.issuperset(set(words) - _BETWEEN):
            return None
        return Command(way.name, words=" ".join(words), names=True)

    def _step(self, way: _Way, rest: list[str]) -> Command | None:
        """With an outline, the words must be like a step's name; without one any will do."""
        if rest[0] in _PARTICLES:
            return None  # "done up the valve"
        said = " ".join(rest[1:] if rest[0] == "the" and len(rest) > 1 else rest)
        if said in self._steps or way.name == "go":
            return Command(way.name, words=said)
        if any(read_number(rest, at) for at in range(len(rest))):
            return None
        words = frozenset(said.split())
        if words <= _BETWEEN:
            return None  # "done for"
        if not self._steps or any(words <= name for name in self._step_words):
            return Command(way.name, words=said)
        sure = process.extractOne(
            said, list(self._steps), scorer=fuzz.token_sort_ratio, score_cutoff=_SURE_STEP
        )
        return Command(way.name, words=said) if sure else None


def _without_one(names: Mapping[tuple[str, ...], str]) -> dict[tuple[str, ...], list[str]]:
    """Map "forward pack apart" to "forward clutch pack apart": one word between is left out."""
    found: dict[tuple[str, ...], list[str]] = {}
    for words, name in names.items():
        for at in range(1, len(words) - 1) if words[-1:] == ("apart",) and len(words) > 3 else ():
            found.setdefault((*words[:at], *words[at + 1 :]), []).append(name)
    return found


def _container_words(pack: Pack) -> frozenset[str]:
    ways = (way for one in pack.container for way in (one.name, *one.say))
    return frozenset(way.partition(" ")[0] for way in ways)


def _part_words(pack: Pack) -> frozenset[str]:
    """Give the last words of the names of parts: what they are."""
    forms = (form for part in pack.part for ways in part_forms(part) for form in ways)
    return frozenset(form.rpartition(" ")[2] for form in forms)


def _noun_words(pack: Pack) -> frozenset[str]:
    """Give the words of the names of parts and places, and of what stands before them."""
    parts = (form for part in pack.part for ways in part_forms(part) for form in ways)
    terms = (*pack.place, *pack.qualifier, *pack.side, *pack.relative)
    ways = (way for term in terms for way in (term.name, *term.say))
    return frozenset(word for name in (*parts, *ways) for word in name.split())


def _step_names(pack: Pack) -> dict[str, frozenset[str]]:
    """Map the names of steps to the parts that come off in them."""
    if pack.outline is None:
        return {}
    return {
        re.sub(r"[^a-z' ]+", " ", name.lower()).replace("  ", " ").strip(): frozenset(
            item.part for item in step.hardware
        )
        for step in pack.outline.steps()
        for name in (step.title, step.id.replace("_", " "), *step.say)
    }
