"""The user's own words: a vocabulary file like those of the trade."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

import platformdirs

from benchvoice.errors import EngineError, GrammarError
from benchvoice.grammar import load_pack
from benchvoice.grammar.toml_file import line_of, read_toml
from benchvoice.grammar.vocabulary import VocabularyFile
from benchvoice.hearing import pronounce

HOME_VARIABLE = "BENCHVOICE_HOME"
FILE_NAME = "words.toml"

WordKind = Literal["part", "place", "condition", "tool", "container", "mark"]
KINDS: tuple[WordKind, ...] = ("part", "place", "condition", "tool", "container", "mark")


@dataclass(frozen=True)
class OwnWord:
    """One entry of the list; `kind` is None when only its sounds are in it.

    `sounds` are the ARPAbet ways of those of its words that have some here.
    """

    name: str
    kind: WordKind | None
    say: tuple[str, ...] = ()
    sounds: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def user_home(environment: Mapping[str, str] = os.environ) -> Path:
    """The user's folder for what is set up once: BENCHVOICE_HOME, or the system's own place."""
    named = environment.get(HOME_VARIABLE)
    return Path(named) if named else platformdirs.user_config_path("benchvoice", appauthor=False)


def own_files(home: Path) -> tuple[Path, ...]:
    """Give the word lists in the user's folder, checked, for `load_pack`.

    Raises GrammarError naming file, line and mend.
    """
    path = home / FILE_NAME
    if not path.exists():
        return ()
    vocabulary, text = read_toml(path, VocabularyFile)
    check_sounds(vocabulary, path, text)
    load_pack(None, [path])
    return (path,)


def listed(path: Path) -> tuple[OwnWord, ...]:
    """Give the words of a list, in its order; none when there is no file.  Raises GrammarError."""
    if not path.exists():
        return ()
    vocabulary, _ = read_toml(path, VocabularyFile)
    left = dict(vocabulary.pronounce)
    found = []
    for kind in KINDS:
        for term in getattr(vocabulary, kind):
            words = [word for way in term.ways for word in way.split()]
            sounds = {word: vocabulary.pronounce[word] for word in words if word in left}
            found.append(OwnWord(term.name, kind, term.say, sounds))
    within = {word for one in found for word in one.sounds}
    alone = (word for word in left if word not in within)
    return (*found, *(OwnWord(word, None, (), {word: left[word]}) for word in alone))


def check_sounds(vocabulary: VocabularyFile, path: Path, text: str) -> None:
    """Raise GrammarError for the first word whose sounds are none."""
    for word, ways in vocabulary.pronounce.items():
        try:
            pronounce([word], {word: ways})
        except EngineError as error:
            line = line_of(text, f"$.pronounce.{word}")
            raise GrammarError(error.what, mend=error.mend, file=path, line=line) from None
