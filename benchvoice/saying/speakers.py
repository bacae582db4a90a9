"""Those who say things: nobody, tones, and voices."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Protocol

from benchvoice.saying.player import Player
from benchvoice.saying.sound import Sound, joined, tone

Synthesiser = Callable[[str], Sound]
"""Makes the sound of a text.  Raises AudioError when it cannot."""


class Speaker(Protocol):
    """Says texts, one at a time."""

    @property
    def name(self) -> str:
        """Who this is, for people."""

    def say(self, text: str, urgent: bool) -> None:
        """Say a text and return when it has been heard, or was cut short.

        `urgent` is said so that it is noticed.  Raises AudioError when it cannot be said.
        """

    def stop(self) -> None:
        """Cut short what is being said; may come from another thread."""


class SilentSpeaker:
    """Says nothing, by choice."""

    name = "silent"

    def say(self, text: str, urgent: bool) -> None:
        """Say nothing."""

    def stop(self) -> None:
        """Nothing to cut short."""


class FakeSpeaker:
    """Keeps what it was to say; for trying out and for tests.

    `said` are (text, urgent) pairs; `saying` is called with each text while it is "said".
    """

    name = "fake"

    def __init__(self, saying: Callable[[str], None] | None = None) -> None:
        self.said: list[tuple[str, bool]] = []
        self.stops = 0
        self._saying = saying

    def say(self, text: str, urgent: bool) -> None:
        """Keep it."""
        self.said.append((text, urgent))
        if self._saying is not None:
            self._saying(text)

    def stop(self) -> None:
        """Count it."""
        self.stops += 1


class BeepSpeaker:
    """Tones for words: two falling when urgent, two rising for a question, else a soft one."""

    name = "beeps"

    URGENT = joined(tone(1046.5, 0.14, -6.0), tone(784.0, 0.2, -6.0))
    QUESTION = joined(tone(784.0, 0.1, -12.0), tone(1046.5, 0.14, -12.0))
    PLAIN = tone(880.0, 0.08, -18.0)

    def __init__(self, player: Player) -> None:
        self._player = player

    def say(self, text: str, urgent: bool) -> None:
        """Play the tone for it."""
        plain = self.QUESTION if text.endswith("?") else self.PLAIN
        self._player.play(self.URGENT if urgent else plain)

    def stop(self) -> None:
        """Cut it short."""
        self._player.stop()


class VoiceSpeaker:
    """A synthetic voice; what is urgent is announced by the urgent tone of the beeps."""

    def __init__(self, name: str, voice: Synthesiser, player: Player) -> None:
        self.name = name
        self._voice = voice
        self._player = player
        self._cut = threading.Event()

    def say(self, text: str, urgent: bool) -> None:
        """Say it in words."""
        self._cut.clear()
        sounds = [*([BeepSpeaker.URGENT] if urgent else []), self._voice(text)]
        for sound in sounds:
            if not self._cut.is_set():
                self._player.play(sound)

    def stop(self) -> None:
        """Cut it short."""
        self._cut.set()
        self._player.stop()
