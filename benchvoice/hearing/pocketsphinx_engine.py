"""PocketSphinx listening for the remarks of the grammar.

It needs no download: the English acoustic model comes with its package.
"""

from __future__ import annotations

import math
import tempfile
from collections.abc import Mapping, Sequence
from itertools import islice
from pathlib import Path
from typing import Any

from benchvoice.audio.denoise import Denoiser
from benchvoice.audio.samples import Samples
from benchvoice.errors import EngineError
from benchvoice.hearing.again import listen_again
from benchvoice.hearing.engine import (
    Heard,
    Hypothesis,
    Sentences,
    best_first,
    plain_text,
)
from benchvoice.hearing.language_files import cached_files, inputs_key
from benchvoice.hearing.ngram import estimate_trigrams, write_arpa
from benchvoice.hearing.ordinary import PAIR_SHARE, WORD_SHARE, ordinary_talk
from benchvoice.hearing.pronounce import Pronounced, model_folder, pronounce
from benchvoice.hearing.quieten import quieten
from benchvoice.hearing.trust import HOPELESS, garbage, judged

_FORMAT = 2
"""Raised when the cached files change their meaning."""
_FILES = ("arpa", "dict", "foreign")

_IDLE, _REMARKS = "idle", "_default"
"""Names of the decoder's two searches: for one word only, and the language model's."""

_PATHS = 100
"""How many paths through the lattice are weighed; many differ only in pauses."""

SETTINGS: dict[str, Any] = {
    "cmn": "batch",
    "lw": 6.5,
    "wip": 0.65,
    "bestpath": True,
    "maxhmmpf": 4000,
    "maxwpf": 20,
}


class PocketSphinxEngine:
    """One decoder with one language model and dictionary.  Made by `build_pocketsphinx`."""

    name = "PocketSphinx, English"

    def __init__(
        self, files: Mapping[str, Path], sounds: Pronounced, denoiser: Denoiser | None
    ) -> None:
        self.missing = sounds.missing
        self._denoiser = denoiser
        self._foreign = frozenset(files["foreign"].read_text(encoding="utf-8").split())
        self._decoder = _decoder(files["arpa"], files["dict"])
        word = min(sounds.entries)
        idle = self._decoder.create_fsg(_IDLE, 0, 1, [(0, 1, 1.0, word)])
        self._decoder.add_fsg(_IDLE, idle)
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
        changed copies, and the confidence is the average over them.  An
        utterance in noise is denoised first.  Foreign words in the guesses
        and even rivals make speech garbage, which is not trusted.
        """
        if not samples.size:
            return Heard()
        quiet = quieten(samples, self._denoiser)
        heard = listen_again(quiet, self._hear_once, self._is_hopeless)
        return judged(heard, self._foreign)

    def _is_hopeless(self, heard: Heard) -> bool:
        return garbage(heard, self._foreign) >= HOPELESS

    def _hear_once(self, samples: Samples) -> Heard:
        decoder = self._decoder
        # The front end learns the noise as it goes.  Forget that of the last
        # utterance, so that a recording is heard the same every time, and go
        # through this one beforehand with next to no search, to know its noise.
        decoder.reinit_feat()
        for search in (_IDLE, _REMARKS):
            decoder.activate_search(search)
            decoder.start_utt()
            decoder.process_raw(samples.tobytes(), no_search=False, full_utt=True)
            decoder.end_utt()
        return _weigh(_paths(decoder), self._scale)


def build_pocketsphinx(
    sentences: Sentences,
    pronunciations: Mapping[str, tuple[str, ...]],
    cache_dir: Path | None,
    denoiser: Denoiser | None = None,
) -> PocketSphinxEngine:
    """Make the engine for the given sentences.

    Words that neither the dictionary nor `pronunciations` knows are in the
    engine's `missing`.  The language model and dictionary are kept in
    `cache_dir` under a hash of all inputs; None keeps nothing.  Raises
    EngineError when PocketSphinx or its model is missing, a pronunciation is
    wrong or there are no sentences.
    """
    said = [(tuple(words), float(weight)) for words, weight in sentences]
    sounds = pronounce((word for words, _ in said for word in words), pronunciations)
    if not sounds.entries:
        what = "none of the words can be heard" if said else "there are no sentences"
        raise EngineError(what, mend="give pronunciations of the words, or other sentences")
    key = inputs_key(_FORMAT, said, sounds.entries, WORD_SHARE, PAIR_SHARE)

    def make(folder: Path) -> None:
        _write_language(folder, said, sounds)

    if cache_dir is not None:
        files = cached_files(cache_dir, key, _FILES, make)
        return PocketSphinxEngine(files, sounds, denoiser)
    with tempfile.TemporaryDirectory() as name:
        make(Path(name))
        return PocketSphinxEngine({one: Path(name, one) for one in _FILES}, sounds, denoiser)


def _write_language(
    folder: Path, said: Sequence[tuple[tuple[str, ...], float]], sounds: Pronounced
) -> None:
    """Write the language model of the remarks and of ordinary English, and what it needs."""
    total = sum(weight for _, weight in said)
    talk = [
        (words, weight * total) for words, weight in ordinary_talk(sounds.entries, model_folder())
    ]
    foreign = {word for words, _ in talk for word in words} - sounds.entries.keys()
    entries = dict(pronounce(foreign, {}).entries) | dict(sounds.entries)
    write_arpa(estimate_trigrams([*said, *talk]), folder / "arpa")
    (folder / "dict").write_text(Pronounced(entries, (), ()).dictionary(), encoding="utf-8")
    (folder / "foreign").write_text("\n".join(sorted(foreign)), encoding="utf-8")


def _decoder(language_model: Path, dictionary: Path) -> Any:
    folder = model_folder()
    from pocketsphinx import Decoder

    try:
        return Decoder(
            hmm=str(folder / "en-us"),
            lm=str(language_model),
            dict=str(dictionary),
            loglevel="FATAL",
            **SETTINGS,
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
