"""The PortAudio library, loaded only when sound is wanted."""

from __future__ import annotations

import threading
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
            "PortAudio library is not installed", mend="install libportaudio2"
        ) from None
    except ImportError:
        raise AudioError(
            "the Python package sounddevice is not installed", mend="install sounddevice"
        ) from None
    return sounddevice


def look_again(sound: Any) -> None:
    """Make PortAudio find the devices that were plugged in since it was loaded.

    It lists them only once, when it is initialised, so it is ended and begun
    again; all its streams must be closed.  `sound` is the sounddevice module.
    """
    with in_use:
        sound._terminate()
        sound._initialize()
