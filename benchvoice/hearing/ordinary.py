"""Ordinary English beside the remarks, so that talk which is not for the bench is heard as such.

An engine that knows nothing but remarks makes remarks of everything.  Here the
commonest words and word pairs of the general language model that comes with
PocketSphinx are given small weights next to the remarks (a background model:
Wessel, Schlüter, Macherey and Ney, "Confidence measures for large vocabulary
continuous speech recognition", 2001, on rejecting by competing words).
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Collection, Iterator, Sequence
from pathlib import Path
from typing import Any

from benchvoice.hearing.pronounce import dictionary

_WORDS = 4000
"""How many foreign words are known."""
_PAIR_WORDS = 1200
"""Between how many of the commonest words pairs are looked at."""
_PAIRS = 20_000
WORD_SHARE, PAIR_SHARE = 0.2, 0.4
"""Weights of all words and all pairs against that of all remarks; chosen on synthetic talk."""
_LOG_BASE = 1.0001

Talk = Iterator[tuple[tuple[str, ...], float]]


def ordinary_talk(own: Collection[str], folder: Path) -> Talk:
    """Give words and pairs of words of ordinary English.

    Weights are shares of the weight of all remarks together.
    `own` are the words of the remarks: no talk consists of them alone.
    `folder` is that of PocketSphinx's English model.
    """
    chance = _chances(folder / "en-us.lm.bin")
    every = sorted(
        ((chance(word), word) for word in _dictionary_words(folder)), key=lambda one: (-one[0], one)
    )
    words = [(word, share) for share, word in every if word not in own and share > 0][:_WORDS]
    common = [(word, share) for share, word in every[:_PAIR_WORDS]]
    pairs = (
        (-share * chance(second, first), (first, second))
        for first, share in common
        for second, _ in common
        if first not in own or second not in own
    )
    likely = heapq.nsmallest(_PAIRS, pairs)
    yield from _weighted([((word,), share) for word, share in words], WORD_SHARE)
    yield from _weighted([(pair, -share) for share, pair in likely], PAIR_SHARE)


def _weighted(said: Sequence[tuple[tuple[str, ...], float]], total: float) -> Talk:
    """Flatten the chances by a square root: what is rare must be heard too."""
    whole = sum(math.sqrt(share) for _, share in said)
    yield from ((words, total * math.sqrt(share) / whole) for words, share in said if share > 0)


def _dictionary_words(folder: Path) -> set[str]:
    names = dictionary(folder)
    return {name for name in names if name.isalpha() and (len(name) > 1 or name in "ai")}


def _chances(path: Path) -> Callable[..., float]:
    """Give the chance of a word, or of a word after the one before it."""
    from pocketsphinx import Config, LogMath, NGramModel

    model: Any = NGramModel(Config(), LogMath(_LOG_BASE), str(path))
    scale = math.log(_LOG_BASE)
    return lambda *words: math.exp(scale * model.prob(list(words)))
