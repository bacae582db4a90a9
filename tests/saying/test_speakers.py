from __future__ import annotations

import shutil
import subprocess
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from benchvoice.errors import AudioError
from benchvoice.hearing.pronounce import model_folder, model_phones
from benchvoice.saying import (
    BeepSpeaker,
    DevicePlayer,
    FakePlayer,
    SilentSpeaker,
    Sound,
    VoiceSpeaker,
    open_speaker,
    tone,
)
from benchvoice.saying.espeak import espeak_sound, sounds_text
from benchvoice.saying.sound import read_sound


def test_a_tone_has_its_pitch_and_level_and_no_click() -> None:
    sound = tone(880.0, 0.5, -12.0)
    spectrum = np.abs(np.fft.rfft(sound.samples))
    assert spectrum.argmax() / sound.seconds == pytest.approx(880, abs=2)
    # peak of a level L dBFS is 10 ** (L / 20): -12 dBFS is 0.2512
    assert np.abs(sound.samples).max() == pytest.approx(0.2512, rel=0.01)
    assert abs(sound.samples[0]) < 0.001 > abs(sound.samples[-1])


def test_a_warning_beeps_louder_and_longer_than_an_entry() -> None:
    player = FakePlayer()
    speaker = BeepSpeaker(player)
    speaker.say("nine of ten", True)
    speaker.say("nine bolts", False)
    speaker.say("nine bolts, right?", False)
    warning, plain, question = player.played
    assert plain.seconds < question.seconds < warning.seconds
    assert warning.seconds > 3 * plain.seconds
    assert np.abs(warning.samples).max() > 2 * np.abs(plain.samples).max()


def test_a_voice_announces_what_is_urgent_and_can_be_cut_before_it_speaks() -> None:
    player = FakePlayer()
    word = Sound(np.zeros(100, dtype=np.float32), 22_050)
    speaker = VoiceSpeaker("a voice", lambda text: word, player)
    speaker.say("nine of ten", True)
    assert player.played == [BeepSpeaker.URGENT, word]
    speaker.say("nine bolts", False)
    assert player.played[2:] == [word]
    cut = VoiceSpeaker("a voice", lambda text: cut.stop() or word, player)  # type: ignore[func-returns-value]
    cut.say("ten bolts", False)
    assert len(player.played) == 3
    assert player.stops == 1


class FakeOutput:
    """As much of sounddevice as the player uses."""

    class PortAudioError(Exception):
        pass

    def __init__(self, *, fails: bool = False, stop_after: int | None = None) -> None:
        self.fails, self.stop_after = fails, stop_after
        self.written: list[np.ndarray[Any, Any]] = []
        self.player: DevicePlayer | None = None
        self.aborted = False

    def OutputStream(self, **settings: Any) -> Any:  # noqa: N802
        if self.fails:
            raise self.PortAudioError("Error querying device -1")
        self.settings = SimpleNamespace(**settings)
        return self

    def __enter__(self) -> FakeOutput:
        return self

    def __exit__(self, *_: object) -> None:
        pass

    def write(self, samples: np.ndarray[Any, Any]) -> None:
        self.written.append(samples)
        if self.player is not None and len(self.written) == self.stop_after:
            self.player.stop()

    def abort(self) -> None:
        self.aborted = True


def test_a_sound_is_played_whole_at_its_own_rate() -> None:
    output = FakeOutput()
    sound = tone(440.0, 0.33)
    DevicePlayer(output).play(sound)
    assert np.array_equal(np.concatenate(output.written)[:, 0], sound.samples)
    assert output.settings.samplerate == sound.rate


def test_a_sound_is_cut_short_at_once() -> None:
    output = FakeOutput(stop_after=2)
    output.player = DevicePlayer(output)
    output.player.play(tone(440.0, 2.0))
    assert output.aborted
    assert len(output.written) == 2


def test_a_missing_loudspeaker_is_said() -> None:
    with pytest.raises(AudioError, match="nothing can be played"):
        DevicePlayer(FakeOutput(fails=True)).play(tone(440.0, 0.1))


def test_no_voice_is_said_with_what_mends_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("benchvoice.saying.choice.find_espeak", lambda: None)
    monkeypatch.setattr("benchvoice.saying.choice.has_system_voice", lambda: False)
    with pytest.raises(AudioError, match="install espeak-ng"):
        open_speaker("warnings")
    assert isinstance(open_speaker("off"), SilentSpeaker)
    assert isinstance(open_speaker("beeps", FakePlayer()), BeepSpeaker)


def test_what_is_no_sound_is_said() -> None:
    with pytest.raises(AudioError, match="no sound that can be read"):
        read_sound(b"not a sound")


def test_every_sound_of_the_engine_has_a_mnemonic() -> None:
    phones = model_phones(model_folder() / "en-us" / "mdef")
    speech = sorted(phone for phone in phones if phone.isalpha() and phone != "SIL")
    assert len(speech) == 39  # the CMU Pronouncing Dictionary's phoneme set
    assert sounds_text(speech).startswith("[['A:_a_V_O:")
    assert sounds_text("B OW L T".split()) == "[[b_'oU_l_t]]"


@pytest.mark.hardware
def test_espeak_speaks_words_and_sounds() -> None:
    program = shutil.which("espeak-ng")
    if program is None:
        pytest.skip("espeak-ng is not installed")
    sound = espeak_sound(program, "nine of ten bolts")
    assert 0.8 < sound.seconds < 4.0
    assert np.abs(sound.samples).max() > 0.1
    # espeak-ng tells which phonemes it says: those that were asked for, not the letters
    told = subprocess.run(
        [program, "-q", "-v", "en-us", "-x", sounds_text("B OW L T".split())],
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.strip().replace("_", "") == "b'oUlt"


@pytest.mark.hardware
def test_a_program_that_fails_is_said() -> None:
    with pytest.raises(AudioError, match="espeak-ng cannot speak"):
        espeak_sound("/bin/false", "nine")
