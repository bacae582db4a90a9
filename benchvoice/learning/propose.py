"""Proposals made from corrections: further ways to say a term or a step, sounds, short forms."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Literal

from msgspec.structs import replace
from rapidfuzz.distance import Levenshtein

from benchvoice.grammar import Pack
from benchvoice.grammar.vocabulary import is_spoken
from benchvoice.learning.pairs import Pair
from benchvoice.learning.swaps import Swap, swaps
from benchvoice.learning.vocabulary import Vocabulary
from benchvoice.remark import Frozen

ProposalKind = Literal["synonym", "short form", "step", "sound"]
Sounding = Callable[[Iterable[str]], Mapping[str, tuple[str, ...]]]
"""Gives ARPAbet ways ("S IY L") by word, of the words that the engine can say."""

_ALIKE = 0.55
"""Share of the sounds that may differ when one word was heard for another; set by hand."""
_SURE = 2
"""How often a phrase of known words is seen before it may be a name, and not another thought."""
_VOWELS = frozenset("aeiouy")


class Proposal(Frozen, frozen=True, kw_only=True):
    """Something to be learnt, how often it was seen, and where first.

    `said` are the words used.  For a "synonym" `meant` is the term's name and
    `term` its kind; for a "short form" the words it stands for; for a "step"
    the step's id and `outline` its outline; for a "sound" the word that was
    said when `said` was heard, and `sounds` all its ways (ARPAbet), the new one last.
    """

    kind: ProposalKind
    said: str
    meant: str
    term: str | None = None
    outline: str | None = None
    sounds: tuple[str, ...] = ()
    seen: int = 1
    example: Pair

    @property
    def text(self) -> str:
        """Say it in a line."""
        if self.kind == "sound":
            return f'"{self.meant}" may sound like "{self.said}"'
        if self.kind == "step":
            return f'step {self.meant} is also called "{self.said}"'
        if self.kind == "short form":
            return f'"{self.said}" is typed for "{self.meant}"'
        return f'{self.term} "{self.meant}" is also said "{self.said}"'


def propose(
    pairs: Iterable[Pair], pack: Pack, sounding: Sounding = lambda words: {}, least: int = 1
) -> tuple[Proposal, ...]:
    """Give what the corrections teach beyond the pack, the most often seen first.

    Each was seen `least` times or more.  `sounding` looks up how words sound;
    without it no sounds are proposed.
    """
    vocabulary = Vocabulary(pack)
    seen: Counter[tuple[str, ...]] = Counter()
    first: dict[tuple[str, ...], Proposal] = {}
    for pair in pairs:
        for found in set(_of_pair(pair, vocabulary, sounding)):
            key = (found.kind, found.said, found.meant, found.term or "")
            seen[key] += 1
            first.setdefault(key, found)
    wanted = [
        (count, key)
        for key, count in seen.items()
        if count >= (least if _is_new(first[key], vocabulary) else max(least, _SURE))
    ]
    wanted.sort(key=lambda item: (-item[0], item[1]))
    return tuple(replace(first[key], seen=count) for count, key in wanted)


def _is_new(proposal: Proposal, vocabulary: Vocabulary) -> bool:
    """Whether there is a word in it that meant nothing so far."""
    return proposal.kind != "synonym" or not vocabulary.words.issuperset(proposal.said.split())


def _of_pair(pair: Pair, vocabulary: Vocabulary, sounding: Sounding) -> Iterator[Proposal]:
    if pair.moved:
        yield from _of_move(pair, vocabulary)
        return
    for ways in swaps(pair.was, pair.became):
        # words that sound alike were misheard; only what does not is another word for it
        found = _of_sound(ways[0], pair, vocabulary, sounding) if pair.by_ear else None
        found = found or next(filter(None, (_of_swap(way, pair, vocabulary) for way in ways)), None)
        if found is not None:
            yield found


def _of_swap(swap: Swap, pair: Pair, vocabulary: Vocabulary) -> Proposal | None:
    """A term or a step said in words that mean nothing so far."""
    said, meant = " ".join(swap.was), " ".join(swap.became)
    if said in vocabulary.steps or said in vocabulary.terms:
        return None
    if vocabulary.words.issuperset(swap.was) and (pair.by_ear or len(swap.was) == 1):
        return None  # a known word was misheard, or something else was meant
    known = None if pair.command else vocabulary.terms.get(meant)
    if known is not None:
        kind, term = known
        if not pair.by_ear and len(swap.was) == 1 and not _VOWELS & set(said):
            return Proposal(kind="short form", said=said, meant=meant, example=pair)
        if meant in vocabulary.plurals:
            said = _singular(said)
        if not is_spoken(said) or said in vocabulary.terms:
            return None
        return Proposal(kind="synonym", said=said, meant=term.name, term=kind, example=pair)
    step = vocabulary.steps.get(meant)
    outline = vocabulary.pack.outline
    if step is None or outline is None or not is_spoken(said):
        return None
    return Proposal(kind="step", said=said, meant=step, outline=outline.name, example=pair)


def _of_sound(
    swap: Swap, pair: Pair, vocabulary: Vocabulary, sounding: Sounding
) -> Proposal | None:
    """A word of the pack that was heard as other words that sound much like it."""
    if len(swap.became) != 1 or len(swap.was) > 2:
        return None
    (meant,) = swap.became
    if meant not in vocabulary.words or not meant.isalpha():
        return None
    sounds = sounding([meant, *swap.was])
    if not all(sounds.get(word) for word in (meant, *swap.was)):
        return None
    heard = " ".join(sounds[word][0] for word in swap.was)
    apart = min(
        Levenshtein.normalized_distance(heard.split(), way.split()) for way in sounds[meant]
    )
    if not 0 < apart <= _ALIKE:
        return None
    said = " ".join(swap.was)
    ways = (*sounds[meant], heard)
    return Proposal(kind="sound", said=said, meant=meant, sounds=ways, example=pair)


def _of_move(pair: Pair, vocabulary: Vocabulary) -> Iterator[Proposal]:
    """A place that was named, and belongs to the step that the entry was moved to."""
    outline = vocabulary.pack.outline
    step = outline.by_id.get(pair.step_became or "") if outline else None
    if outline is None or step is None:
        return
    for place in pair.places:
        if place not in vocabulary.steps and is_spoken(place):
            yield Proposal(
                kind="step", said=place, meant=step.id, outline=outline.name, example=pair
            )


def _singular(words: str) -> str:
    """Take the ending of a plural off; the opposite of `plural_of`, where that can be told.

    >>> _singular("zappers"), _singular("wave brushes"), _singular("bodies"), _singular("brass")
    ('zapper', 'wave brush', 'body', 'brass')
    """
    if words.endswith("ies") and len(words) > 4:
        return words[:-3] + "y"
    if words.endswith(("shes", "ches", "xes", "zes", "sses")):
        return words[:-2]
    if words.endswith("s") and not words.endswith("ss"):
        return words[:-1]
    return words
