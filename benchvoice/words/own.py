"""The user's own words: a vocabulary file like those of the trade, added to and taken from."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

import platformdirs
import tomlkit
from tomlkit.items import AoT, Array, Table

from benchvoice.errors import EngineError, GrammarError
from benchvoice.grammar import load_pack
from benchvoice.grammar.toml_file import line_of, read_toml
from benchvoice.grammar.vocabulary import VocabularyFile
from benchvoice.hearing import pronounce

HOME_VARIABLE = "BENCHVOICE_HOME"
FILE_NAME = "words.toml"

WordKind = Literal["part", "place", "condition", "tool", "container", "mark"]
KINDS: tuple[WordKind, ...] = ("part", "place", "condition", "tool", "container", "mark")

_HEAD = """\
# Your own words, on top of the trade's; made by `benchvoice words add`, and yours to edit.
#
# [[part]] (or place, condition, tool, container, mark) has a name and further ways to say it;
# [pronounce] has the sounds of words the engine does not know: word = ["S OW N D Z"].
"""
_SPOKEN = re.compile(r"[a-z']+( [a-z']+)*")


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
    _check_sounds(vocabulary, path, text)
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
            words = [word for say in (term.name, *term.say) for word in say.split()]
            sounds = {word: vocabulary.pronounce[word] for word in words if word in left}
            found.append(OwnWord(term.name, kind, term.say, sounds))
    within = {word for one in found for word in one.sounds}
    alone = (word for word in left if word not in within)
    return (*found, *(OwnWord(word, None, (), {word: left[word]}) for word in alone))


def add_word(
    path: Path,
    name: str,
    kind: WordKind | None,
    *,
    say: Sequence[str] = (),
    sounds: Mapping[str, tuple[str, ...]] | None = None,
    part_kind: str | None = None,
) -> None:
    """Put a word into the list, in the place of one of that name and kind.

    `kind` None adds only `sounds`, ARPAbet ways by word.  What else is in the
    file, comments too, stays.  Raises GrammarError when the result would not
    be a good list; the file is then as it was.
    """
    for spoken in (name, *say):
        if not _SPOKEN.fullmatch(spoken):
            raise GrammarError(
                f'"{spoken}" cannot be spoken as it is written',
                mend="use lower-case words with single spaces, numbers in words",
            )
    document = read_list(path)
    if kind is not None:
        _take_out(document, kind, name)
        table = tomlkit.table()
        table["name"] = name
        if part_kind is not None:
            table["kind"] = part_kind
        if say:
            table["say"] = list(say)
        _append(document, kind, table)
    for word, ways in (sounds or {}).items():
        document.setdefault("pronounce", tomlkit.table())[word] = list(ways)
    write_list(path, document)


def remove_word(path: Path, name: str) -> bool:
    """Take a word and its sounds out of the list; False when it is not in it."""
    document = read_list(path)
    found = [kind for kind in KINDS if _take_out(document, kind, name)]
    sounds = document.get("pronounce", {})
    kept = {word for one in _spoken(document) for word in one.split()}
    gone = [word for word in {name, *name.split()} if word in sounds and word not in kept]
    for word in gone:
        del sounds[word]
    if not found and not gone:
        return False
    write_list(path, document)
    return True


def read_list(path: Path) -> tomlkit.TOMLDocument:
    """Read a list to be edited; one with a mistake is refused before it is made worse."""
    if not path.exists():
        return tomlkit.parse(_HEAD)
    read_toml(path, VocabularyFile)
    return tomlkit.parse(path.read_text(encoding="utf-8"))


def write_list(path: Path, document: tomlkit.TOMLDocument) -> None:
    """Write a list, whole or not at all.

    Raises GrammarError when it would not be a good one; the file is then as it was.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    new = path.with_name(f".{path.name}.new")
    try:
        new.write_text(_spaced(tomlkit.dumps(document)), encoding="utf-8")
        vocabulary, text = read_toml(new, VocabularyFile)
        _check_sounds(vocabulary, path, text)
        load_pack(None, [new])
        new.replace(path)
    except GrammarError as error:
        raise GrammarError(error.what, mend=error.mend, file=path, line=error.line) from None
    except OSError as error:
        raise GrammarError(
            f"cannot be written ({error.strerror})", mend="check space and permissions", file=path
        ) from None
    finally:
        new.unlink(missing_ok=True)


def _spaced(text: str) -> str:
    """Put an empty line before each table that has none."""
    return re.sub(r"(?m)^(?![#\n])(.+)\n(?=\[)", r"\1\n\n", text)


def _append(document: tomlkit.TOMLDocument, kind: str, table: Table) -> None:
    terms = document.get(kind)
    if terms is None:
        terms = document[kind] = tomlkit.aot()
    if isinstance(terms, Array):  # a list of inline tables, as in the trade's files
        line = tomlkit.inline_table()
        line.update(table.unwrap())
        terms.add_line(line)
    else:
        terms.append(table)


def _take_out(document: tomlkit.TOMLDocument, kind: str, name: str) -> bool:
    terms = document.get(kind)
    if not isinstance(terms, AoT | Array):
        return False
    at = next((number for number, term in enumerate(terms) if term.get("name") == name), None)
    if at is None:
        return False
    del terms[at]
    if not len(terms):
        del document[kind]
    return True


def _spoken(document: tomlkit.TOMLDocument) -> Iterator[str]:
    for kind in KINDS:
        for term in document.get(kind, ()):
            yield from (str(term["name"]), *map(str, term.get("say", ())))


def _check_sounds(vocabulary: VocabularyFile, path: Path, text: str) -> None:
    for word, ways in vocabulary.pronounce.items():
        try:
            pronounce([word], {word: ways})
        except EngineError as error:
            line = line_of(text, f"$.pronounce.{word}")
            raise GrammarError(error.what, mend=error.mend, file=path, line=line) from None
