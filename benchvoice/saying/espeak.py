"""The synthetic voice of the espeak-ng program, where it is installed."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterable

from benchvoice.errors import AudioError
from benchvoice.saying.sound import Sound, read_sound

_NAMES = ("espeak-ng", "espeak")
_WORDS_A_MINUTE = 160
_TIMEOUT = 20.0

_MNEMONICS = {
    **{"AA": "A:", "AE": "a", "AH": "V", "AO": "O:", "AW": "aU", "AY": "aI", "EH": "E"},
    **{"ER": "3:", "EY": "eI", "IH": "I", "IY": "i:", "OW": "oU", "OY": "OI", "UH": "U"},
    **{"UW": "u:", "CH": "tS", "DH": "D", "HH": "h", "JH": "dZ", "NG": "N", "SH": "S"},
    **{"TH": "T", "Y": "j", "ZH": "Z"},
    **{sound: sound.lower() for sound in "B D F G K L M N P R S T V W Z".split()},
}
"""ARPAbet sounds to espeak-ng's phoneme mnemonics (its documentation, "Phonemes", English)."""


def find_espeak() -> str | None:
    """Give the path of the program; None when it is not installed."""
    return next((found for name in _NAMES if (found := shutil.which(name))), None)


def espeak_sound(program: str, text: str) -> Sound:
    """Make the sound of a text.  Raises AudioError when the program fails."""
    command = [program, "--stdout", "-v", "en-us", "-s", str(_WORDS_A_MINUTE), "--stdin"]
    try:
        done = subprocess.run(
            command, input=text.encode(), capture_output=True, timeout=_TIMEOUT, check=True
        )
    except (OSError, subprocess.SubprocessError) as error:
        raise AudioError(
            f"espeak-ng cannot speak ({type(error).__name__})", mend="choose --say beeps"
        ) from None
    return read_sound(done.stdout)


def sounds_text(sounds: Iterable[str]) -> str:
    """Write ARPAbet sounds so that espeak-ng says just those: "[[b oU l t]]".

    A vowel gets the stress when it is the first.  Raises KeyError for an unknown sound.
    """
    mnemonics = []
    stressed = False
    for sound in sounds:
        mnemonic = _MNEMONICS[sound]
        if not stressed and sound[0] in "AEIOU":
            mnemonic, stressed = f"'{mnemonic}", True
        mnemonics.append(mnemonic)
    return f"[[{'_'.join(mnemonics)}]]"
