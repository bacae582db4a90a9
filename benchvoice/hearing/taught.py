"""What an English engine is taught of the sentences: a language model, a dictionary, the rest."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from benchvoice.errors import EngineError
from benchvoice.hearing.engine import Sentences
from benchvoice.hearing.language_files import cached_files, inputs_key
from benchvoice.hearing.ngram import estimate_trigrams, save_trigrams, write_arpa
from benchvoice.hearing.ordinary import PAIR_SHARE, WORD_SHARE, ordinary_talk
from benchvoice.hearing.pronounce import Pronounced, model_folder, pronounce

_FORMAT = 4
"""Raised when the cached files change their meaning."""
FILES = ("arpa", "grams", "dict", "foreign", "missing", "features")
"""The trigrams in the ARPA format and as arrays; the dictionary; the words of ordinary English
that no remark has; those of the remarks that cannot be heard; the feature settings."""


@contextmanager
def taught(
    sentences: Sentences,
    pronunciations: Mapping[str, tuple[str, ...]],
    cache_dir: Path | None,
    named: str | None = None,
) -> Iterator[dict[str, Path]]:
    """Give the FILES made for the sentences.

    They are kept in `cache_dir` under a hash of all inputs; without it they
    are gone afterwards.  With `named`, which must change whenever they do, the
    sentences are not gone through when the cache has them.  Raises EngineError
    when PocketSphinx's model is missing, a pronunciation is wrong or there are
    no sentences.
    """
    settings = (sorted(pronunciations.items()), WORD_SHARE, PAIR_SHARE)
    if cache_dir is not None and named is not None:
        model_folder()  # first of all, for its error

        def teach(folder: Path) -> None:
            _write_language(folder, *_pronounced(sentences, pronunciations))

        yield cached_files(cache_dir, inputs_key(_FORMAT, named, *settings), FILES, teach)
        return
    said, sounds = _pronounced(sentences, pronunciations)

    def make(folder: Path) -> None:
        _write_language(folder, said, sounds)

    if cache_dir is not None:
        key = inputs_key(_FORMAT, said, sounds.entries, WORD_SHARE, PAIR_SHARE)
        yield cached_files(cache_dir, key, FILES, make)
        return
    with tempfile.TemporaryDirectory() as name:
        make(Path(name))
        yield {one: Path(name, one) for one in FILES}


def _pronounced(
    sentences: Sentences, pronunciations: Mapping[str, tuple[str, ...]]
) -> tuple[list[tuple[tuple[str, ...], float]], Pronounced]:
    said = [(tuple(words), float(weight)) for words, weight in sentences]
    sounds = pronounce((word for words, _ in said for word in words), pronunciations)
    if not sounds.entries:
        what = "none of the words can be heard" if said else "there are no sentences"
        raise EngineError(what, mend="give pronunciations of the words, or other sentences")
    return said, sounds


def _write_language(
    folder: Path, said: Sequence[tuple[tuple[str, ...], float]], sounds: Pronounced
) -> None:
    """Write the language model of the remarks and of ordinary English, and what it needs."""
    total = sum(weight for _, weight in said)
    talk = [
        (words, weight * total) for words, weight in ordinary_talk(sounds.entries, model_folder())
    ]
    foreign = {word for words, _ in talk for word in words} - sounds.entries.keys()
    entries = dict(pronounce(foreign, {}).entries) | dict(sounds.entries)
    trigrams = estimate_trigrams([*said, *talk])
    write_arpa(trigrams, folder / "arpa")
    save_trigrams(trigrams, folder / "grams")
    (folder / "dict").write_text(Pronounced(entries, (), ()).dictionary(), encoding="utf-8")
    (folder / "foreign").write_text("\n".join(sorted(foreign)), encoding="utf-8")
    (folder / "missing").write_text("\n".join(sounds.missing), encoding="utf-8")
    write_features(folder / "features")


def write_features(path: Path) -> None:
    """Write the model's feature settings for cepstra whose mean is off already (see `decode`).

    What stands in that file of the model would override the decoder's settings.
    """
    own = (model_folder() / "en-us" / "feat.params").read_text(encoding="utf-8").splitlines()
    kept = [line for line in own if not line.startswith("-cmn")]
    path.write_text("\n".join([*kept, "-cmn none", ""]), encoding="utf-8")
