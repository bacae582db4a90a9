"""Vosk listening for the remarks of the grammar.

The model is found on this machine; it is fetched only when `fetch_model` is
called for it.
"""

from __future__ import annotations

import contextlib
import io
import json
import math
import os
import zipfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.errors import EngineError
from benchvoice.hearing.engine import (
    MAX_HYPOTHESES,
    Heard,
    Hypothesis,
    Sentences,
    best_first,
    plain_text,
)

MODEL_VARIABLE = "BENCHVOICE_VOSK_MODEL"
DEFAULT_MODEL = "vosk-model-small-en-us-0.15"
_PREFIXES = ("vosk-model-small-en-us", "vosk-model-en-us")
_UNKNOWN = "[unk]"
UNKNOWN = 0.5
"""From this share of unknown words on an utterance is not trusted.  Set by hand: no English
model was there to measure with."""
_PHRASES = 30_000
"""How many phrases Vosk is given at most, the weightiest first."""


class VoskEngine:
    """One recogniser over one model.  Made by `build_vosk`."""

    def __init__(self, model: Any, phrases: Iterable[str], name: str, missing: tuple[str, ...]):
        import vosk

        self.name = name
        self.missing = missing
        grammar = json.dumps(list(phrases), ensure_ascii=False)
        try:
            self._recogniser = vosk.KaldiRecognizer(model, float(SAMPLE_RATE), grammar)
        except Exception as error:  # what the package raises
            raise EngineError(
                f"Vosk cannot take the sentences ({error})",
                mend="use a model with a dynamic graph (a small one)",
            ) from None
        self._recogniser.SetMaxAlternatives(MAX_HYPOTHESES)
        self._recogniser.SetWords(True)

    def hear(self, samples: Samples) -> Heard:
        """Listen to one whole utterance: 16 kHz mono int16.

        Vosk's alternatives carry a path score, not a probability; the
        confidence is its share among the alternatives, exp(score) over their
        sum.  It says how clearly the best beat the rest, not that it is right.
        What has many words that Vosk took for unknown ones is not trusted.
        """
        # The whole utterance is decoded before the end is looked for, so a
        # result found here is all of it, and the final one would be empty.
        ended = self._recogniser.AcceptWaveform(samples.tobytes())
        found = self._recogniser.Result() if ended else self._recogniser.FinalResult()
        return _weigh(json.loads(found).get("alternatives", []))


def build_vosk(
    sentences: Sentences, pronunciations: Mapping[str, tuple[str, ...]], model_path: Path
) -> VoskEngine:
    """Make the engine for the given sentences over the model in the folder `model_path`.

    Vosk takes no pronunciations, so words that the model does not know are in
    the engine's `missing`, and sentences with one are left out.  Raises
    EngineError when the package or the model cannot be used.
    """
    model = _load(model_path)
    known = _word_test(model)
    said = sorted(((tuple(words), weight) for words, weight in sentences), key=lambda s: -s[1])
    vocabulary = {word for words, _ in said for word in words}
    missing = {word for word in vocabulary if not known(word)}
    phrases = dict.fromkeys(
        " ".join(words) for words, _ in said if words and missing.isdisjoint(words)
    )
    if not phrases:
        raise EngineError(
            "the Vosk model knows none of the sentences",
            mend="use a model of their language",
            file=model_path,
        )
    chosen = list(phrases)[:_PHRASES]
    if known(_UNKNOWN):
        chosen.append(_UNKNOWN)
    return VoskEngine(model, chosen, f"Vosk, {model_path.name}", tuple(sorted(missing)))


def find_model(
    given: Path | None = None,
    *,
    environment: Mapping[str, str] = os.environ,
    folders: Iterable[Path] | None = None,
) -> Path | None:
    """Find an English Vosk model: `given`, the variable's, or one in Vosk's own folders.

    A small model is preferred, as only those take a grammar; the newest of
    them by name.  None when there is none.  Raises EngineError when `given` or
    the variable names something else than a model.
    """
    named = given or (
        Path(environment[MODEL_VARIABLE]) if environment.get(MODEL_VARIABLE) else None
    )
    if named is not None:
        if not is_model(named):
            whose = "given" if given else f"named in {MODEL_VARIABLE}"
            raise EngineError(
                f"the Vosk model {whose} is not a model folder",
                mend="give the folder that has am/final.mdl in it",
                file=named,
            )
        return named
    for prefix in _PREFIXES:
        for folder in folders if folders is not None else _vosk_folders():
            found = sorted(path for path in folder.glob(f"{prefix}*") if is_model(path))
            if found:
                return found[-1]
    return None


def is_model(folder: Path) -> bool:
    """Whether a folder holds a Vosk model (the old layout has its files at the top)."""
    return (folder / "am" / "final.mdl").is_file() or (folder / "final.mdl").is_file()


def fetch_model(name: str = DEFAULT_MODEL) -> Path:
    """Fetch a model with Vosk's own downloader into Vosk's own folder; give where it is.

    Raises EngineError when there is no network or no such model.
    """
    vosk = _package()
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            return Path(_fetcher(vosk).get_model_path(name, None))
    except SystemExit:
        raise EngineError(f'Vosk knows no model "{name}"', mend="check its name") from None
    except (OSError, ValueError, zipfile.BadZipFile) as error:
        raise EngineError(
            f"the Vosk model could not be fetched ({type(error).__name__}: no network?)",
            mend=f"unpack it by hand and set {MODEL_VARIABLE} to its folder",
        ) from None


def _fetcher(vosk: Any) -> Any:
    """Give Vosk's downloader without the model that its class loads and frees."""

    class Fetcher(vosk.Model):  # type: ignore[misc]
        def __init__(self) -> None:
            pass

        def __del__(self) -> None:
            pass

    return Fetcher()


def _vosk_folders() -> list[Path]:
    try:
        import vosk
    except Exception:
        return []
    return [Path(folder) for folder in vosk.MODEL_DIRS if folder]


def _package() -> Any:
    try:
        import vosk
    except (ImportError, OSError) as error:
        raise EngineError(
            f"Vosk cannot be loaded ({error})", mend="install the package vosk"
        ) from None
    vosk.SetLogLevel(-1)
    return vosk


def _load(path: Path) -> Any:
    vosk = _package()
    if not is_model(path):
        raise EngineError(
            "there is no Vosk model here", mend="give a folder with am/final.mdl in it", file=path
        )
    try:
        return vosk.Model(str(path))
    except Exception as error:  # what the package raises
        raise EngineError(
            f"the Vosk model cannot be loaded ({error})", mend="unpack it again", file=path
        ) from None


def _word_test(model: Any) -> Callable[[str], bool]:
    find = cast("Callable[[str], int]", model.vosk_model_find_word)
    return lambda word: find(word) >= 0


def _weigh(alternatives: list[Any]) -> Heard:
    found = [(str(one["text"]), float(one["confidence"])) for one in alternatives]
    if not found:
        return Heard()
    top = max(score for _, score in found)
    shares = [(text, score, math.exp(score - top)) for text, score in found if text]
    total = sum(share for _, _, share in shares)
    guesses = [(plain_text(text), score, share) for text, score, share in shares]
    sure = sum(share for text, _, share in guesses if text)
    unknown = sum(share * _unknown_share(text) for text, _, share in shares) / total if total else 1
    heard = best_first(
        Hypothesis(text, share / sure, score) for text, score, share in guesses if text
    )
    return replace(heard, trusted=unknown < UNKNOWN)


def _unknown_share(text: str) -> float:
    words = text.split()
    return words.count(_UNKNOWN) / len(words)
