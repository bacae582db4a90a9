"""Sounds out of the loudspeaker."""

from __future__ import annotations

import threading
from typing import Any, Protocol

from benchvoice.audio.portaudio import first_line, in_use, load_sounddevice
from benchvoice.errors import AudioError
from benchvoice.saying.sound import Sound

_CHUNK_SECONDS = 0.05
"""How soon a sound that is cut short is silent."""
_BUFFER_SECONDS = 0.3
"""What the device holds, which is played however busy the machine is; cutting short drops it."""


class Player(Protocol):
    """Plays one sound at a time."""

    def play(self, sound: Sound) -> None:
        """Play to the end, or until `stop`.  Raises AudioError when it cannot be."""

    def stop(self) -> None:
        """Cut short what is playing; may come from another thread."""


class DevicePlayer:
    """Plays on the default output device; `backend` stands in for the sounddevice module."""

    def __init__(self, backend: Any = None) -> None:
        self._backend = backend
        self._stopped = threading.Event()

    def play(self, sound: Sound) -> None:
        """Play to the end, or until `stop`.

        Raises AudioError when PortAudio or an output device is missing.
        """
        self._stopped.clear()
        sounddevice = self._backend or load_sounddevice()
        chunk = max(1, round(sound.rate * _CHUNK_SECONDS))
        with in_use:
            try:
                stream = sounddevice.OutputStream(
                    samplerate=sound.rate, channels=1, dtype="float32", latency=_BUFFER_SECONDS
                )
                with stream:  # leaving it waits until all has been heard
                    for at in range(0, sound.samples.size, chunk):
                        if self._stopped.is_set():
                            stream.abort()
                            return
                        stream.write(sound.samples[at : at + chunk].reshape(-1, 1))
            except (sounddevice.PortAudioError, ValueError) as error:
                raise AudioError(
                    f"nothing can be played ({first_line(error)})",
                    mend="plug a loudspeaker in, or choose --say off",
                ) from None

    def stop(self) -> None:
        """Cut short what is playing; may come from another thread."""
        self._stopped.set()


class FakePlayer:
    """Keeps the sounds it was given instead of playing them."""

    def __init__(self) -> None:
        self.played: list[Sound] = []
        self.stops = 0

    def play(self, sound: Sound) -> None:
        """Keep it."""
        self.played.append(sound)

    def stop(self) -> None:
        """Count it."""
        self.stops += 1
