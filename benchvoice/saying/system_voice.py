"""The system's own voice through pyttsx3 (the extra `voice`), in a process of its own.

The voices of some systems have to be driven from a program's main thread,
and print; so `python -m benchvoice.saying.system_voice FILE` makes the sound
of the text on its standard input.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path

from benchvoice.errors import AudioError
from benchvoice.saying.sound import Sound, read_sound

_TIMEOUT = 30.0


def has_system_voice() -> bool:
    """Whether pyttsx3 is installed; whether it has a voice shows when it speaks."""
    return find_spec("pyttsx3") is not None


def system_sound(text: str) -> Sound:
    """Make the sound of a text.  Raises AudioError when the system has no voice."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "said.wav")
        try:
            subprocess.run(
                [sys.executable, "-m", "benchvoice.saying.system_voice", str(file)],
                input=text.encode(),
                capture_output=True,
                timeout=_TIMEOUT,
                check=True,
            )
            content = file.read_bytes()
        except (OSError, subprocess.SubprocessError):
            raise AudioError(
                "the system has no voice", mend="install espeak-ng, or choose --say beeps"
            ) from None
    return read_sound(content)


def _main() -> None:
    import pyttsx3

    engine = pyttsx3.init()
    engine.save_to_file(sys.stdin.read(), sys.argv[1])
    engine.runAndWait()


if __name__ == "__main__":
    _main()
