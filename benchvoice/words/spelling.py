"""How a word sounds by its spelling, by espeak-ng's rules for English.

Taken from the library of the extra `words` (phonemizer with espeakng-loader),
or from the espeak-ng program where that is installed; else it is not known.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from functools import cache
from typing import Any

from benchvoice.saying.espeak import find_espeak
from benchvoice.words.ipa import arpabet

Guesser = Callable[[str], tuple[str, ...] | None]
"""Gives the ARPAbet sounds of a word, None when it cannot tell."""

_TIMEOUT = 10.0


def find_guesser() -> Guesser | None:
    """Give what guesses sounds by spelling; None when neither library nor program is there."""
    if _library() is not None:
        return by_library
    return by_program if find_espeak() is not None else None


def by_library(word: str) -> tuple[str, ...] | None:
    """Ask the library of the extra `words`."""
    backend = _library()
    if backend is None:
        return None
    (ipa,) = backend.phonemize([word])
    return arpabet(ipa.strip()) or None


def by_program(word: str) -> tuple[str, ...] | None:
    """Ask the espeak-ng program."""
    program = find_espeak()
    if program is None:
        return None
    command = [program, "-q", "-v", "en-us", "--ipa", "--", word]
    try:
        done = subprocess.run(
            command, capture_output=True, encoding="utf-8", timeout=_TIMEOUT, check=True
        )
    except (OSError, subprocess.SubprocessError, UnicodeDecodeError):
        return None
    return arpabet(done.stdout.strip()) or None


@cache
def _library() -> Any:
    try:
        import espeakng_loader
        from phonemizer.backend import EspeakBackend
        from phonemizer.backend.espeak.wrapper import EspeakWrapper

        EspeakWrapper.set_library(espeakng_loader.get_library_path())
        EspeakWrapper.set_data_path(espeakng_loader.get_data_path())
        return EspeakBackend("en-us")
    except (ImportError, OSError, RuntimeError, AttributeError):
        return None
