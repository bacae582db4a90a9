"""How words sound: a dictionary cut to the words that may be said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from benchvoice.errors import EngineError
from benchvoice.hearing.acoustic import read_sounds
from benchvoice.hearing.engine import ALTERNATE
from benchvoice.hearing.morphology import derive


@dataclass(frozen=True)
class Pronounced:
    """Word to ARPAbet pronunciations ("TH AW"), first the usual one; words without any, sorted.

    `derived` are the words that were made by rule from another one's, sorted.
    """

    entries: Mapping[str, tuple[str, ...]]
    missing: tuple[str, ...]
    derived: tuple[str, ...] = ()

    def dictionary(self) -> str:
        """Give the text of a Sphinx dictionary: a line each, alternates as "word(2)"."""
        lines = []
        for word, sounds in sorted(self.entries.items()):
            for number, sound in enumerate(sounds, start=1):
                lines.append(f"{word}{f'({number})' if number > 1 else ''} {sound}\n")
        return "".join(lines)


def pronounce(
    words: Iterable[str], given: Mapping[str, tuple[str, ...]], model: Path | None = None
) -> Pronounced:
    """Look words up in the engine's dictionary; `given` pronunciations replace its own.

    A regular form of a known word ("shims") is made from that word's.
    `model` is the folder with `cmudict-en-us.dict` and the acoustic model
    `en-us`; None for the one that comes with PocketSphinx.  Raises EngineError
    for a given pronunciation with a sound that the model does not have.
    """
    folder = model or model_folder()
    phones = model_phones(folder / "en-us" / "mdef")
    known = dictionary(folder)
    own = {
        word: tuple(_checked(word, sound, phones) for sound in sounds)
        for word, sounds in given.items()
        if sounds
    }

    def lookup(word: str) -> tuple[str, ...]:
        return own.get(word) or known.get(word, ())

    wanted = sorted(set(words))
    direct = {word: sounds for word in wanted if (sounds := lookup(word))}
    rest = {word: derive(word, lookup) for word in wanted if word not in direct}
    derived = {word: sounds for word, sounds in rest.items() if sounds}
    missing = tuple(word for word, sounds in rest.items() if not sounds)
    return Pronounced(direct | derived, missing, tuple(derived))


def model_folder() -> Path:
    """The folder of the English model that comes with PocketSphinx.

    Raises EngineError when PocketSphinx or its model is not installed.
    """
    try:
        from pocketsphinx import get_model_path
    except ImportError as error:
        raise EngineError(
            f"PocketSphinx cannot be loaded ({error})", mend="install the package pocketsphinx"
        ) from None
    folder = Path(get_model_path("en-us"))
    if not (folder / "en-us" / "mdef").is_file():
        raise EngineError(
            "PocketSphinx's model is missing", mend="install pocketsphinx again", file=folder
        )
    return folder


@cache
def model_phones(mdef: Path) -> frozenset[str]:
    """Give the names of the sounds that a model knows."""
    return frozenset(read_sounds(mdef))


@cache
def dictionary(folder: Path) -> Mapping[str, tuple[str, ...]]:
    """Give the pronunciations of the words that come with PocketSphinx's English model."""
    text = (folder / "cmudict-en-us.dict").read_text(encoding="utf-8")
    known: dict[str, list[str]] = {}
    for line in text.splitlines():
        word, _, sound = line.partition(" ")
        if sound:
            known.setdefault(ALTERNATE.sub("", word), []).append(sound)
    return {word: tuple(sounds) for word, sounds in known.items()}


def _checked(word: str, sound: str, phones: frozenset[str]) -> str:
    names = sound.split()
    wrong = [name for name in names if name not in phones]
    if wrong or not names:
        usable = " ".join(sorted(name for name in phones if name.isalpha() and name != "SIL"))
        what = f'"{wrong[0]}" is not a sound of the model' if wrong else "it is empty"
        raise EngineError(
            f'the pronunciation "{sound}" of "{word}" cannot be used: {what}',
            mend=f"use these, without stress digits: {usable}",
        )
    return " ".join(names)
