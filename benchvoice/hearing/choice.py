"""The choice of the engine."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Literal

from benchvoice.audio.denoise import Denoiser, open_denoiser
from benchvoice.errors import EngineError
from benchvoice.hearing.engine import Engine, Sentences
from benchvoice.hearing.general_model import GeneralModel, find_general_model
from benchvoice.hearing.pocketsphinx_engine import PocketSphinxEngine
from benchvoice.hearing.second import SecondOpinion
from benchvoice.hearing.taught import taught
from benchvoice.hearing.vosk_engine import build_vosk
from benchvoice.hearing.vosk_model import MODEL_VARIABLE, find_model

EngineChoice = Literal["auto", "vosk", "pocketsphinx"]


def open_engine(
    choice: EngineChoice,
    sentences: Sentences,
    pronunciations: Mapping[str, tuple[str, ...]],
    model_path: Path | None = None,
    cache_dir: Path | None = None,
    *,
    find_denoiser: Callable[[], Denoiser | None] = open_denoiser,
    find_second: Callable[[], GeneralModel | None] = find_general_model,
    named: str | None = None,
    voice: Path | None = None,
) -> Engine:
    """Build the chosen engine; "auto" is Vosk when a model of it is found, else PocketSphinx.

    `model_path` names a Vosk model.  Either gets the denoiser of this machine
    when there is one; PocketSphinx also the `voice` of an enrolled user, the
    name of the sentences, and a second opinion where a model for that is
    installed.  Raises EngineError when the choice cannot be had.
    """
    model = None if choice == "pocketsphinx" else find_model(model_path)
    if model is not None:
        return build_vosk(sentences, pronunciations, model, find_denoiser())
    if choice == "vosk":
        raise EngineError(
            "no Vosk model was found on this machine",
            mend=f"fetch one, set {MODEL_VARIABLE}, or choose pocketsphinx",
        )
    with taught(sentences, pronunciations, cache_dir, named) as files:
        alone = PocketSphinxEngine(files, find_denoiser(), voice)
        general = find_second()
        return alone if general is None else SecondOpinion.on(alone, general, files)
