"""PocketSphinx listening for the remarks of the grammar.

It needs no download: the English acoustic model comes with its package.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np

from benchvoice.audio.denoise import Denoiser
from benchvoice.audio.samples import Samples
from benchvoice.errors import EngineError
from benchvoice.hearing.acoustic import Floats
from benchvoice.hearing.attend import attend
from benchvoice.hearing.cepstra import cepstra
from benchvoice.hearing.channel import matched, speech_mixture
from benchvoice.hearing.engine import (
    Heard,
    Hypothesis,
    Sentences,
    best_first,
    plain_text,
)
from benchvoice.hearing.own_voice import voice_setting
from benchvoice.hearing.pronounce import model_folder
from benchvoice.hearing.taught import taught
from benchvoice.hearing.trust import HOPELESS, SpokenWord, judged, own_share

_PART = 25
"""Frames that the decoder gets at a time: a quarter of a second of speech."""
_SLOPE_FRAMES = 3
"""How many frames the decoder waits for before it can tell the slope of one."""

_LEAST = 1e-300
"""Scores that are smaller than a double can be count as this."""
_PATHS = 100
"""How many paths through the lattice are weighed; many differ only in pauses."""

SETTINGS: dict[str, Any] = {
    "lw": 6.5,
    "wip": 0.65,
    "bestpath": True,
    "maxhmmpf": 2000,
    "ds": 2,  # only every other frame is weighed anew: as many remarks are right, for less time
    "maxwpf": 20,
}


class PocketSphinxEngine:
    """One decoder with one language model and dictionary.  Made by `build_pocketsphinx`."""

    name = "PocketSphinx, English"

    def __init__(
        self, files: Mapping[str, Path], denoiser: Denoiser | None, voice: Path | None = None
    ) -> None:
        self.missing = tuple(files["missing"].read_text(encoding="utf-8").split())
        self._denoiser = denoiser
        self._foreign = frozenset(files["foreign"].read_text(encoding="utf-8").split())
        self._decoder = _decoder(files, voice)
        self._mixture = speech_mixture(model_folder() / "en-us")
        self._scale = float(self._decoder.config["ascale"])

    def hear(self, samples: Samples) -> Heard:
        """Listen to one whole utterance: 16 kHz mono int16.

        The confidence of a text is its posterior among the best paths through
        the word lattice: the sum of exp(score / ascale) over the paths with
        that text, over the sum over all paths, where ascale is PocketSphinx's
        own factor between its scores and log probabilities.  It is how clearly
        a text beat its rivals in this grammar.  Speech from outside the
        grammar mostly has many even rivals, and so scores low, but not always.
        When the best guess is not clear the utterance is listened to again in
        a changed copy, and the confidence is the average over them.  An
        utterance in noise is denoised first.  `trust.py` tells what is made
        of foreign words.
        """
        path: list[SpokenWord] = []

        def hear_first(sound: Samples) -> Heard:
            heard = self._hear_once(sound)
            path.extend(_spoken_words(self._decoder))
            return heard

        return attend(
            samples,
            self._denoiser,
            hear=hear_first,
            hear_copy=self._hear_once,
            hopeless=lambda heard: own_share(heard, self._foreign) < HOPELESS,
            judge=lambda heard: judged(heard, self._foreign, path),
        )

    def _hear_once(self, samples: Samples) -> Heard:
        decode(self._decoder, matched(cepstra(samples), self._mixture))
        return _weigh(_paths(self._decoder), self._scale)


def decode(decoder: Any, frames: Floats) -> None:
    """Take a decoder through the cepstra (T, 13) of one whole utterance.

    In small parts, so that other threads get a turn: nobody else in Python
    may do anything while the decoder works.
    """
    ending = np.concatenate((frames, frames[-1:].repeat(_SLOPE_FRAMES, axis=0)))
    decoder.start_utt()
    for at in range(0, len(ending), _PART):
        part = ending[at : at + _PART].astype(np.float32)
        decoder.process_cep(part.tobytes(), no_search=False, full_utt=False)
    decoder.end_utt()


def build_pocketsphinx(
    sentences: Sentences,
    pronunciations: Mapping[str, tuple[str, ...]],
    cache_dir: Path | None,
    denoiser: Denoiser | None = None,
    *,
    named: str | None = None,
    voice: Path | None = None,
) -> PocketSphinxEngine:
    """Make the engine for the given sentences.

    Words that neither the dictionary nor `pronunciations` knows are in the
    engine's `missing`.  For `cache_dir` and `named` see `taught`; `voice` is
    a file of `write_voice`.  Raises EngineError when PocketSphinx or its model
    is missing, the voice is damaged, a pronunciation is wrong or there are no
    sentences.
    """
    with taught(sentences, pronunciations, cache_dir, named) as files:
        return PocketSphinxEngine(files, denoiser, voice)


def _decoder(files: Mapping[str, Path], voice: Path | None) -> Any:
    from pocketsphinx import Decoder

    own = {} if voice is None else voice_setting(voice)
    try:
        return Decoder(
            hmm=str(model_folder() / "en-us"),
            featparams=str(files["features"]),
            lm=str(files["arpa"]),
            dict=str(files["dict"]),
            loglevel="FATAL",
            **SETTINGS,
            **own,
        )
    except RuntimeError as error:
        raise EngineError(
            f"PocketSphinx cannot be started ({error})", mend="install pocketsphinx again"
        ) from None


def _paths(decoder: Any) -> list[tuple[str, float]]:
    """Give the best paths through the lattice: their words, and log score (natural).

    PocketSphinx hands scores out shortened by 10 bits and as exp(score); undone here.
    """
    best = decoder.hyp()
    if best is None:
        return []
    paths = [
        (plain_text(path.hypstr), 1024 * math.log(path.score))
        for path in islice(decoder.nbest(), _PATHS)
        if path is not None and path.score > 0
    ]
    # No lattice (a word or two, or nothing survived): the one result is all there is.
    return [path for path in paths if path[0]] or [(plain_text(best.hypstr), 0.0)]


def _spoken_words(decoder: Any) -> list[SpokenWord]:
    """Give the words of the best path; their chance is without the language weight's power.

    PocketSphinx hands scores out as exp(score), those of language shortened by 10 bits besides.
    """
    if decoder.hyp() is None:
        return []
    return [
        SpokenWord(
            frames=one.end_frame - one.start_frame + 1,
            sounds=len((decoder.lookup_word(one.word) or one.word).split()),
            fit=math.log(max(one.ascore, _LEAST)),
            chance=1024 * math.log(max(one.lscore, _LEAST)) / SETTINGS["lw"],
        )
        for one in decoder.seg()
        if plain_text(one.word)
    ]


def _weigh(paths: list[tuple[str, float]], scale: float) -> Heard:
    """Turn paths into guesses; the share of a text is that of all its paths."""
    if not paths:
        return Heard()
    top = max(score for _, score in paths)
    shares: dict[str, float] = {}
    for text, score in paths:
        shares[text] = shares.get(text, 0.0) + math.exp((score - top) / scale)
    total = sum(shares.values())
    guesses = (
        Hypothesis(text, share / total, math.log(share / total))
        for text, share in shares.items()
        if text and share > 0
    )
    return best_first(guesses, _PATHS)  # all: those with foreign words may go later
