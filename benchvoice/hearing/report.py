"""What this machine has for hearing and speaking, and what would mend a lack."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from benchvoice.audio.denoise import PACKAGE, Denoiser, open_denoiser
from benchvoice.audio.microphone import MicrophoneInfo, list_microphones
from benchvoice.errors import BenchvoiceError
from benchvoice.hearing.general_model import MEND, general_model_folder, reports_its_use
from benchvoice.hearing.pronounce import model_folder
from benchvoice.hearing.vosk_model import MODEL_VARIABLE, find_model

_VOICES = (
    ("espeak-ng voice", "espeak-ng", "apt install espeak-ng"),
    ("flite voice", "flite", "apt install flite"),
)


@dataclass(frozen=True)
class Check:
    """One thing looked for: whether it is `present`, a `detail` about it, a command to `mend`."""

    what: str
    present: bool
    detail: str
    mend: str = ""


def engine_report(
    *,
    which: Callable[[str], str | None] = shutil.which,
    microphones: Callable[[], tuple[MicrophoneInfo, ...]] = list_microphones,
    model: Callable[[], Path | None] = find_model,
    denoiser: Callable[[], Denoiser | None] = open_denoiser,
) -> tuple[Check, ...]:
    """Look for the engines, their models, microphones and synthetic voices.

    Nothing is fetched, opened for recording, or changed.
    """
    return (
        _package("PocketSphinx package", "pocketsphinx"),
        _looked_for(
            "PocketSphinx model", model_folder, "pip install --force-reinstall pocketsphinx"
        ),
        # without its dependencies: they are for files and plots, and large
        _looked_for(
            "denoiser",
            lambda: (found := denoiser()) and found.name,
            f"pip install --no-deps {PACKAGE}",
            without="not installed; noise is left in",
        ),
        _second_opinion(),
        _package("Vosk package", "vosk"),
        _looked_for(
            "Vosk model",
            model,
            f"benchvoice fetch-model, or set {MODEL_VARIABLE}",
            without="none found; PocketSphinx is used",
            wrong=f"correct {MODEL_VARIABLE}",
        ),
        *_microphones(microphones),
        *(_program(which, *voice) for voice in _VOICES),
        _package("piper voice", "piper", "piper-tts"),
    )


def _package(what: str, module: str, name: str = "") -> Check:
    name = name or module
    mend = f"pip install {name}"
    try:
        from importlib import metadata

        found = find_spec(module) is not None
        return Check(what, found, metadata.version(name) if found else "not installed", mend)
    except (ImportError, ValueError):
        return Check(what, False, "not installed", mend)


def _looked_for(
    what: str, look: Callable[[], object], mend: str, *, without: str = "", wrong: str = ""
) -> Check:
    """Look for one thing: None is that it is not there, and an error that it is `wrong`."""
    try:
        found = look()
    except BenchvoiceError as error:
        return Check(what, False, str(error), wrong or mend)
    return Check(what, found is not None, without if found is None else str(found), mend)


def _second_opinion() -> Check:
    what = "second opinion"
    folder = general_model_folder()
    if folder is not None:
        return Check(what, True, str(folder), MEND)
    if reports_its_use():
        detail = "not used: this onnxruntime reports its use over the network"
        return Check(what, False, detail, MEND)
    return Check(what, False, "not installed; PocketSphinx decides alone", MEND)


def _microphones(listed: Callable[[], tuple[MicrophoneInfo, ...]]) -> list[Check]:
    try:
        found = listed()
    except BenchvoiceError as error:
        mend = "apt install libportaudio2"
        return [
            Check("PortAudio", False, str(error), mend),
            Check("microphone", False, "cannot be looked for without PortAudio", mend),
        ]
    names = ", ".join(f"{one.index} {one.name}" for one in found)
    plug = "plug one in, then: benchvoice check"
    return [
        Check("PortAudio", True, "loaded"),
        Check("microphone", bool(found), names or "none found", plug),
    ]


def _program(which: Callable[[str], str | None], what: str, program: str, mend: str) -> Check:
    path = which(program)
    return Check(what, path is not None, path or "not installed", mend)
