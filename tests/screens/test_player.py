"""Clips played through a stand-in for the sounddevice module."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

from benchvoice.errors import AudioError
from benchvoice.screens.player import SpeakerPlayer

DIGITS = Path(__file__).parents[1] / "recordings" / "human" / "digits.flac"


class Sound:
    """The three things that are used of sounddevice."""

    class PortAudioError(Exception):
        pass

    def __init__(self, broken: Exception | None = None) -> None:
        self.broken = broken
        self.calls: list[Any] = []

    def stop(self) -> None:
        self.calls.append("stop")

    def play(self, samples: Any, rate: int) -> None:
        if self.broken is not None:
            raise self.broken
        self.calls.append((len(samples), rate))


def test_a_clip_is_played_at_its_own_rate_and_stops_the_one_before() -> None:
    sound = Sound()
    seconds = SpeakerPlayer(sound).play(DIGITS)
    (stop, (count, rate)) = sound.calls
    assert stop == "stop"
    assert seconds == count / rate > 1


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (Sound.PortAudioError("Error querying device -1\nmore"), "Error querying device -1"),
        (Sound.PortAudioError(), "PortAudioError"),
        (ValueError("No output device matching 'x'"), "No output device matching 'x'"),
    ],
)
def test_without_a_loudspeaker_it_says_so_in_a_line(error: Exception, said: str) -> None:
    with pytest.raises(AudioError) as caught:
        SpeakerPlayer(Sound(error)).play(DIGITS)
    assert str(caught.value) == f"there is no loudspeaker to play it; plug one in ({said})"


def test_without_portaudio_it_says_so_and_the_module_is_not_needed_before(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    player = SpeakerPlayer()
    player.stop()
    with pytest.raises(AudioError, match="cannot be played here: the Python package sounddevice"):
        player.play(DIGITS)
