"""A user's own means of the acoustic model: what to read for them, and whether they help."""

from __future__ import annotations

import random
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import msgspec
from rapidfuzz.distance import Levenshtein

from benchvoice.audio import Samples
from benchvoice.errors import BadInput
from benchvoice.grammar import Pack
from benchvoice.grammar.generate import sentences
from benchvoice.hearing import Engine, pronounce
from benchvoice.hearing.acoustic import AcousticModel, Floats, read_acoustic_model
from benchvoice.hearing.adapting import adapted_means
from benchvoice.hearing.aligning import Aligned, Aligner
from benchvoice.hearing.own_voice import write_voice
from benchvoice.hearing.pronounce import model_folder

_WORDS = range(4, 10)
"""How long a sentence to read may be, in words."""
_CANDIDATES = 300
_FOLDS = 4
_UNLIKE = 0.7
"""From this share of word errors on it was not what should have been read."""
LEAST = 8
"""Fewer readings say too little about a voice, and about what is gained."""

MakeEngine = Callable[[Path | None], Engine]
"""Makes the engine without or with the voice in a file."""
Progress = Callable[[str], None]


@dataclass(frozen=True, eq=False)
class Reading:
    """A sentence and its recording, 16 kHz mono."""

    text: str
    samples: Samples


class Gain(msgspec.Struct, frozen=True, kw_only=True):
    """Word errors on sentences that the means were not estimated from, before and after."""

    sentences: int
    words: int
    before: int
    after: int

    @property
    def helped(self) -> bool:
        """Whether the means are worth keeping."""
        return self.after < self.before

    def text(self) -> str:
        """Say it in words."""
        said = (
            f"{self.sentences} held-back sentences, {self.words} words: "
            f"{self.before} wrong before, {self.after} after"
        )
        return f"{said}; {'kept' if self.helped else 'no help, so hearing stays as it was'}"


@dataclass(frozen=True, eq=False)
class Enrolled:
    """The means (C, S, K, D) of all readings, what they gain, the texts left out as unlike."""

    means: Floats
    gain: Gain
    left_out: tuple[str, ...]


def sentences_to_read(pack: Pack, count: int, seed: int = 1) -> list[str]:
    """Choose sentences of the pack that together have as many pairs of sounds as can be."""
    drawn = sentences(pack, count=_CANDIDATES * 3, seed=seed)
    texts = [" ".join(one.words) for one in drawn if one.weight == 1 and len(one.words) in _WORDS]
    texts = list(dict.fromkeys(texts))[:_CANDIDATES]
    sounds = pronounce((word for text in texts for word in text.split()), pack.pronounce)
    pairs = {
        text: set(pairwise(" ".join(sounds.entries[word][0] for word in text.split()).split()))
        for text in texts
        if sounds.entries.keys() >= set(text.split())
    }
    chosen: list[str] = []
    have: set[tuple[str, str]] = set()
    while pairs and len(chosen) < count:
        best = max(pairs, key=lambda text: len(pairs[text] - have))
        have |= pairs.pop(best)
        chosen.append(best)
    random.Random(seed).shuffle(chosen)
    return chosen


@dataclass(frozen=True, eq=False)
class _Listened:
    """A reading, as it is aligned, and the word errors without a voice."""

    reading: Reading
    aligned: Aligned
    errors: int


def enrol(
    readings: Sequence[Reading], pack: Pack, make: MakeEngine, progress: Progress = lambda _: None
) -> Enrolled:
    """Estimate the means of a voice, and what they gain on sentences held back from them.

    Each quarter of the readings is heard with the means of the other three.
    Raises BadInput when too few of them are what they should be.
    """
    model = read_acoustic_model(model_folder() / "en-us")
    good = _as_written(_listened(readings, pack, make(None), model, progress), model, make)
    if len(good) < LEAST:
        raise BadInput(
            f"only {len(good)} of {len(readings)} recordings are what was to be read",
            mend=f"read at least {LEAST} again, near the microphone",
        )
    after = 0
    for fold in range(_FOLDS):
        progress(f"trying {fold + 1} of {_FOLDS}")
        rest = [one.aligned for at, one in enumerate(good) if at % _FOLDS != fold]
        engine = _engine_with(adapted_means(model, rest), make)
        after += sum(_errors(engine, one.reading) for one in good[fold::_FOLDS])
    kept = [one.reading for one in good]
    gain = Gain(
        sentences=len(good),
        words=sum(len(one.text.split()) for one in kept),
        before=sum(one.errors for one in good),
        after=after,
    )
    left_out = tuple(one.text for one in readings if one not in kept)
    return Enrolled(adapted_means(model, [one.aligned for one in good]), gain, left_out)


def _listened(
    readings: Sequence[Reading],
    pack: Pack,
    engine: Engine,
    model: AcousticModel,
    progress: Progress,
) -> list[_Listened]:
    """Hear and align the readings; those that do not go with their texts at all are left out."""
    aligner = Aligner([one.text for one in readings], pack.pronounce)
    found = []
    for number, one in enumerate(readings, start=1):
        progress(f"listening {number} of {len(readings)}")
        errors = _errors(engine, one)
        aligned = aligner.align(model, one.text, one.samples)
        if aligned is not None:
            found.append(_Listened(one, aligned, errors))
    return found


def _as_written(
    listened: Sequence[_Listened], model: AcousticModel, make: MakeEngine
) -> list[_Listened]:
    """Leave out what is not what should have been read.

    Who is heard badly gains most: what is unlike at first is heard once more
    with the means of what is not.
    """
    like = [one for one in listened if _is_like(one.reading, one.errors)]
    if not like or len(like) == len(listened):
        return like
    engine = _engine_with(adapted_means(model, [one.aligned for one in like]), make)
    return [
        one
        for one in listened
        if one in like or _is_like(one.reading, _errors(engine, one.reading))
    ]


def _is_like(reading: Reading, errors: int) -> bool:
    return errors < _UNLIKE * len(reading.text.split())


def _engine_with(means: Floats, make: MakeEngine) -> Engine:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "voice")
        write_voice(means, path)
        return make(path)


def _errors(engine: Engine, reading: Reading) -> int:
    return word_errors(reading.text, engine.hear(reading.samples).text)


def word_errors(said: str, heard: str) -> int:
    """Count the words that were put in, left out or changed (Levenshtein distance)."""
    return int(Levenshtein.distance(said.split(), heard.split()))
