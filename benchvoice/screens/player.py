"""Clips played; the sound system is loaded only when one is."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Protocol

from benchvoice.audio.portaudio import first_line, load_sounddevice
from benchvoice.errors import AudioError


class Player(Protocol):
    """Plays a recording; `play` returns at once, and stops what it played before."""

    def play(self, path: Path) -> float:
        """Start to play a file; gives its seconds.  Raises AudioError."""

    def stop(self) -> None:
        """Stop."""


class SpeakerPlayer:
    """Plays through the default loudspeaker; `backend` stands in for the sounddevice module."""

    def __init__(self, backend: Any = None) -> None:
        self._backend = backend

    def play(self, path: Path) -> float:
        """Start to play a file; gives its seconds.

        Raises AudioError when it cannot be read, or there is nothing to play it with.
        """
        samples, rate = _samples(path)
        sound = self._sound()
        try:
            sound.stop()
            sound.play(samples, rate)
        except (sound.PortAudioError, ValueError) as error:
            raise AudioError(
                "there is no loudspeaker to play it", mend=f"plug one in ({first_line(error)})"
            ) from None
        return float(len(samples) / rate)

    def stop(self) -> None:
        """Stop; does nothing when nothing was played."""
        if self._backend is not None:
            self._backend.stop()

    def _sound(self) -> Any:
        if self._backend is None:
            try:
                self._backend = load_sounddevice()
            except AudioError as error:
                what = f"clips cannot be played here: {error.what}"
                raise AudioError(what, mend=error.mend) from None
        return self._backend


class SilentPlayer:
    """Plays nothing and remembers in `played` what it should have."""

    def __init__(self) -> None:
        self.played: list[Path] = []

    def play(self, path: Path) -> float:
        """Remember a file; gives its seconds.  Raises AudioError when it cannot be read."""
        samples, rate = _samples(path)
        self.played.append(path)
        return float(len(samples) / rate)

    def stop(self) -> None:
        """Do nothing."""


def _samples(path: Path) -> tuple[Any, int]:
    import soundfile

    try:
        samples, rate = soundfile.read(path, dtype="int16")
    except (OSError, soundfile.LibsndfileError) as error:
        reason = " ".join(str(getattr(error, "error_string", None) or error).split())
        raise AudioError(
            f"{path.name} cannot be read ({reason})", mend="see whether it is there"
        ) from None
    return samples, int(rate)
