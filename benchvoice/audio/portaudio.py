"""The PortAudio library, loaded only when sound is wanted."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from benchvoice.errors import AudioError

in_use = threading.Lock()
"""Held while something is played: looking for devices anew would cut it off."""


def load_sounddevice() -> Any:
    """Load the sounddevice module.  Raises AudioError when it or PortAudio is missing."""
    try:
        import sounddevice
    except OSError:
        raise AudioError(
            "the PortAudio library is not installed", mend="install libportaudio2"
        ) from None
    except ImportError:
        raise AudioError(
            "the Python package sounddevice is not installed", mend="install sounddevice"
        ) from None
    except Exception as error:  # its own, whose class is not to be had without it
        raise AudioError(
            f"PortAudio cannot be started ({first_line(error)})", mend="see that sound works at all"
        ) from None
    return sounddevice


def first_line(error: Exception) -> str:
    """Give the first line of what an error says, or what kind of error it is."""
    return next(iter(str(error).splitlines()), type(error).__name__)


def look_again(sound: Any) -> None:
    """Make PortAudio find the devices that were plugged in since it was loaded.

    It lists them only once, when it is initialised, so it is ended and begun
    again; all its streams must be closed.  `sound` is the sounddevice module.
    """
    with in_use:
        sound._terminate()
        sound._initialize()


@contextmanager
def quiet_libraries() -> Iterator[None]:
    """Keep the C libraries from printing on the terminal while it lasts.

    ALSA and PortAudio print, in the middle of a screen, what they tell us
    anyway.  Python's own sys.stderr goes on printing.
    """
    sys.stderr.flush()
    terminal = os.dup(2)
    python = sys.stderr
    try:
        if _is_terminal(python):
            sys.stderr = os.fdopen(os.dup(terminal), "w", encoding="utf-8", buffering=1)
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, 2)
        os.close(nothing)
        yield
    finally:
        if sys.stderr is not python:
            sys.stderr.close()
            sys.stderr = python
        os.dup2(terminal, 2)
        os.close(terminal)


def _is_terminal(stream: Any) -> bool:
    """Whether a stream writes to file 2, and not somewhere of its own (as in tests)."""
    try:
        return bool(stream.fileno() == 2)
    except (OSError, AttributeError, ValueError):
        return False
