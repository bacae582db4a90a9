"""A word said by its sounds, so that one hears what the engine listens for."""

from __future__ import annotations

from benchvoice.errors import AudioError
from benchvoice.saying.espeak import espeak_sound, find_espeak, sounds_text
from benchvoice.saying.player import DevicePlayer, Player


def say_sounds(sounds: str, player: Player | None = None) -> None:
    """Say ARPAbet sounds ("B OW L T").

    Only espeak-ng can.  Raises AudioError when it is not there or nothing can be played.
    """
    program = find_espeak()
    if program is None:
        raise AudioError("only espeak-ng can say single sounds", mend="install espeak-ng")
    sound = espeak_sound(program, sounds_text(sounds.split()))
    (player or DevicePlayer()).play(sound)
