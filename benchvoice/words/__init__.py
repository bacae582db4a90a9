"""The user's own words: kept in a list, with sounds that are given or guessed."""

from benchvoice.words.own import (
    FILE_NAME,
    KINDS,
    OwnWord,
    WordKind,
    add_word,
    listed,
    own_files,
    read_list,
    remove_word,
    user_home,
    write_list,
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
    "add_word",
    "find_guesser",
    "listed",
    "own_files",
    "read_list",
    "remove_word",
    "sounds_like",
    "sounds_of",
    "talk_report",
    "user_home",
    "write_list",
]
