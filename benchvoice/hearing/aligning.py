"""Which sound of a known text each frame of its recording is, as PocketSphinx aligns them."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from benchvoice.audio.samples import Samples
from benchvoice.errors import EngineError
from benchvoice.hearing.acoustic import AcousticModel, Floats
from benchvoice.hearing.cepstra import cepstra, dynamic
from benchvoice.hearing.channel import matched, speech_mixture
from benchvoice.hearing.pocketsphinx_engine import decode
from benchvoice.hearing.pronounce import Pronounced, model_folder, pronounce
from benchvoice.hearing.taught import write_features

_SILENT = frozenset({"SIL", "+NSN+", "+SPN+"})


@dataclass(frozen=True, eq=False)
class Aligned:
    """The T frames of 10 ms that are speech.

    `features` (T, 3, 13) are cepstra, slopes, slopes of slopes; `sounds` and
    `states` (T,) their codebook and state in the acoustic model.
    """

    features: Floats
    sounds: npt.NDArray[np.int64]
    states: npt.NDArray[np.int64]


class Aligner:
    """Aligns recordings with their texts.

    `texts` are all that will be aligned.  Raises EngineError for one with a
    word that cannot be heard.
    """

    def __init__(self, texts: Iterable[str], pronunciations: Mapping[str, tuple[str, ...]]) -> None:
        sounds = pronounce((word for text in texts for word in text.split()), pronunciations)
        if sounds.missing:
            raise EngineError(
                f'"{sounds.missing[0]}" is a word that cannot be heard',
                mend="give its pronunciation in the grammar pack",
            )
        with tempfile.TemporaryDirectory() as folder:
            self._decoder = _decoder(Path(folder), sounds)

    def align(self, model: AcousticModel, text: str, samples: Samples) -> Aligned | None:
        """Align 16 kHz mono samples with a text; None when they do not go together."""
        decoder = self._decoder
        frames = matched(cepstra(samples), speech_mixture(model_folder() / "en-us"))
        try:
            decoder.set_align_text(text)
            decode(decoder, frames)
            if decoder.hyp() is None:
                return None
            decoder.set_alignment()
            decode(decoder, frames)
        except RuntimeError:  # what the package raises
            return None
        alignment = decoder.get_alignment()
        return None if alignment is None else _speech(alignment, model, dynamic(frames))


def _speech(alignment: Any, model: AcousticModel, features: Floats) -> Aligned:
    """Give the frames of an alignment that are of a sound, not of silence or a breath."""
    sounds = np.full(len(features), -1)
    states = np.zeros(len(features), dtype=np.int64)
    for word in alignment:
        for phone in word:
            sound = -1 if phone.name in _SILENT else model.sounds.index(phone.name)
            for state in phone:
                part = slice(state.start, state.start + state.duration)
                sounds[part], states[part] = sound, int(state.name)
    speech = sounds >= 0
    return Aligned(features[speech], sounds[speech], states[speech])


def _decoder(folder: Path, sounds: Pronounced) -> Any:
    from pocketsphinx import Decoder

    dictionary = folder / "dict"
    dictionary.write_text(sounds.dictionary(), encoding="utf-8")
    write_features(folder / "features")
    return Decoder(
        hmm=str(model_folder() / "en-us"),
        featparams=str(folder / "features"),
        lm=None,
        dict=str(dictionary),
        loglevel="FATAL",
    )
