"""What this machine has for talking back and for words of one's own, and what would mend a lack."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from benchvoice.errors import GrammarError
from benchvoice.hearing import Check
from benchvoice.saying import find_voice
from benchvoice.words.own import FILE_NAME, listed, own_files
from benchvoice.words.spelling import Guesser, find_guesser


def talk_report(
    home: Path,
    *,
    voice: Callable[[], tuple[str, object] | None] = find_voice,
    guesser: Callable[[], Guesser | None] = find_guesser,
) -> tuple[Check, ...]:
    """Look for a voice, for what guesses sounds by spelling, and at the word list in `home`."""
    found = voice()
    guess = guesser()
    return (
        Check(
            "voice to talk back",
            found is not None,
            found[0] if found else "only beeps can be played",
            "apt install espeak-ng, or pip install 'benchvoice[voice]'",
        ),
        Check(
            "sounds by spelling",
            guess is not None,
            "espeak-ng's rules" if guess else "words add needs --sounds",
            "pip install 'benchvoice[words]', or apt install espeak-ng",
        ),
        _own_words(home),
    )


def _own_words(home: Path) -> Check:
    path = home / FILE_NAME
    try:
        own_files(home)
    except GrammarError as error:
        where = f"{path}:{error.line}" if error.line else f"{path}"
        return Check("your own words", False, error.what, f"{error.mend} ({where})")
    many = len(listed(path))
    return Check("your own words", True, f"{many} in {path}" if many else f"none yet in {path}")
