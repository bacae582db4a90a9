"""Which speaker there is for what was asked for."""

from __future__ import annotations

from benchvoice.errors import AudioError
from benchvoice.saying.espeak import espeak_sound, find_espeak
from benchvoice.saying.lines import Say
from benchvoice.saying.player import DevicePlayer, Player
from benchvoice.saying.speakers import (
    BeepSpeaker,
    SilentSpeaker,
    Speaker,
    Synthesiser,
    VoiceSpeaker,
)
from benchvoice.saying.system_voice import has_system_voice, system_sound


def find_voice() -> tuple[str, Synthesiser] | None:
    """Give the name of a synthetic voice and the voice; None when there is none."""
    program = find_espeak()
    if program is not None:
        return "espeak-ng", lambda text: espeak_sound(program, text)
    if has_system_voice():
        return "the system's voice", system_sound
    return None


def open_speaker(say: Say, player: Player | None = None) -> Speaker:
    """Give the speaker for a level.  Raises AudioError when words are wanted of no voice."""
    if say == "off":
        return SilentSpeaker()
    player = player or DevicePlayer()
    if say == "beeps":
        return BeepSpeaker(player)
    voice = find_voice()
    if voice is None:
        raise AudioError(
            "there is no voice to speak with",
            mend="install espeak-ng (or pip install 'benchvoice[voice]'), or choose --say beeps",
        )
    return VoiceSpeaker(*voice, player)
