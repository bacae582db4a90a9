"""The user's list of words added to and taken from; its comments and what else is in it stay."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array

from benchvoice.disk import replacing
from benchvoice.errors import GrammarError
from benchvoice.grammar import load_pack
from benchvoice.grammar.toml_file import read_toml
from benchvoice.grammar.vocabulary import VocabularyFile, is_spoken
from benchvoice.words.own import KINDS, WordKind, check_sounds

_HEAD = """\
# Your own words, on top of the trade's; made by `benchvoice words add`, and yours to edit.
#
# [[part]] (or place, condition, tool, container, mark) has a name and further ways to say it;
# [pronounce] has the sounds of words the engine does not know: word = ["S OW N D Z"].
"""


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
        if not is_spoken(spoken):
            raise GrammarError(
                f'"{spoken}" cannot be spoken as it is written',
                mend="use lower-case words with single spaces, numbers in words",
            )
    document = read_list(path)
    if kind is not None:
        _take_out(document, kind, name)
        fields = {"name": name, "kind": part_kind, "say": list(say)}
        append(document, kind, {key: value for key, value in fields.items() if value})
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
    _, text = read_toml(path, VocabularyFile)
    return tomlkit.parse(text)


def write_list(path: Path, document: tomlkit.TOMLDocument) -> None:
    """Write a list, whole or not at all.

    Raises GrammarError when it would not be a good one; the file is then as it was.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with replacing(path) as new:
            new.write_text(_spaced(tomlkit.dumps(document)), encoding="utf-8")
            vocabulary, text = read_toml(new, VocabularyFile)
            check_sounds(vocabulary, path, text)
            load_pack(None, [new])
    except GrammarError as error:
        raise GrammarError(error.what, mend=error.mend, file=path, line=error.line) from None
    except OSError as error:
        raise GrammarError.unwritable(path, error) from None


def _spaced(text: str) -> str:
    """Put an empty line before each table that has none."""
    return re.sub(r"(?m)^(?![#\n])(.+)\n(?=\[)", r"\1\n\n", text)


def append(document: tomlkit.TOMLDocument, kind: str, fields: Mapping[str, Any]) -> None:
    """Put a table with these fields behind the others of its kind."""
    tables = document.setdefault(kind, tomlkit.aot())
    inline = isinstance(tables, Array)  # a list of inline tables, as in the trade's files
    table = tomlkit.inline_table() if inline else tomlkit.table()
    table.update(fields)
    (tables.add_line if inline else tables.append)(table)


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
