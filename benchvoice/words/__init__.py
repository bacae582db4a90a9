"""The user's own words: kept in a list, with sounds that are given or guessed.

`editing` changes the list, and is not imported here: few commands need its TOML library.
"""

from benchvoice.words.own import (
    FILE_NAME,
    KINDS,
    OwnWord,
    WordKind,
    listed,
    own_files,
    user_home,
)
from benchvoice.words.report import talk_report
from benchvoice.words.sounds import Sounds, sounds_like, sounds_of
from benchvoice.words.spelling import Guesser, find_guesser

__all__ = [
    "FILE_NAME",
    "KINDS",
    "Guesser",
    "OwnWord",
    "Sounds",
    "WordKind",
    "find_guesser",
    "listed",
    "own_files",
    "sounds_like",
    "sounds_of",
    "talk_report",
    "user_home",
]
