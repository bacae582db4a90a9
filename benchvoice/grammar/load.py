"""Packs and outlines read from TOML files and checked as a whole."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from benchvoice.errors import GrammarError
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.outline_check import outline_mistakes, spoken_words
from benchvoice.grammar.pack import TERM_KINDS, Pack
from benchvoice.grammar.templates import spread
from benchvoice.grammar.toml_file import line_of, read_toml
from benchvoice.grammar.vocabulary import Entry, PartKind, Term, VocabularyFile

_FILE_NAME = re.compile(r"[A-Za-z0-9][\w-]{0,63}")
_SPOKEN = re.compile(r"[a-z']+( [a-z']+)*( \{(step|number)\})?")


def grammars_folder() -> Path:
    """The folder of the grammars that come with benchvoice (in a wheel or a checkout)."""
    inside = Path(__file__).parent.parent / "grammars"
    return inside if inside.is_dir() else Path(__file__).parents[2] / "grammars"


def load_pack(outline: Outline | None = None, extra: Sequence[Path] = ()) -> Pack:
    """Load the trade vocabulary, the user's `extra` files, and the words of `outline`.

    Raises GrammarError naming file, line and mend.
    """
    base = _trade_vocabulary(grammars_folder() / "trade")
    own = [_read_vocabulary(path, own=True) for path in extra]
    merged = _merge([base, *([outline] if outline else []), *own])
    return Pack(**merged, outline=outline.called(merged["alias"]) if outline else None)


def outline_path(name: str | Path) -> Path:
    """Give the file of an outline, by its path or the name of one that comes with benchvoice."""
    path = Path(name)
    if path.name == str(name) and not path.suffix and not path.exists():
        return grammars_folder() / "outlines" / f"{name}.toml"
    return path


def outline_file(name: str | Path) -> Path:
    """Give the file of an outline, which is there.  Raises GrammarError."""
    path = outline_path(name)
    if not path.exists():
        folder = grammars_folder() / "outlines"
        known = ", ".join(sorted(found.stem for found in folder.glob("*.toml")))
        raise GrammarError("no such outline", mend=f"give a path or one of: {known}", file=name)
    return path


@cache
def trade_kinds() -> Mapping[str, PartKind]:
    """Give the kinds of the parts in the trade vocabulary, by name."""
    return {part.name: part.kind for part in load_pack().part}


@cache
def relative_words() -> Mapping[str, str]:
    """Map the words for a relative size to its name in the trade vocabulary: "big" is "large"."""
    return {say: term.name for term in load_pack().relative for say in term.say if " " not in say}


@cache
def sound_conditions() -> frozenset[str]:
    """Give the trade vocabulary's conditions that mean nothing is wrong."""
    return frozenset(condition.name for condition in load_pack().condition if condition.sound)


def load_outline(name: str | Path) -> Outline:
    """Load an outline by path, or by the name of one that comes with benchvoice.

    Raises GrammarError naming file, line and mend.
    """
    path = outline_file(name)
    outline, text = read_toml(path, Outline)
    for error in outline_errors(outline, path, text):
        raise error
    return outline


def outline_errors(outline: Outline, path: Path, text: str) -> Iterator[GrammarError]:
    """Yield what is wrong in an outline that was read from `text`, its words first."""
    yield from _term_errors(outline, path, text)
    if not _FILE_NAME.fullmatch(outline.name):  # sessions are named after it
        yield GrammarError(
            f'name "{outline.name}" cannot be part of a file name',
            mend="use letters, digits, - and _",
            file=path,
            line=line_of(text, "$.name"),
        )
    if not any(True for _ in outline.steps()):
        yield GrammarError("has no steps", mend="add [[stage.step]] tables", file=path)
    for mistake in outline_mistakes(outline):
        line = line_of(text, mistake.where)
        yield GrammarError(mistake.what, mend=mistake.mend, file=path, line=line)
    for spoken in spoken_words(outline):
        yield from _spoken_errors(spoken.words, path, text, spoken.where)


@cache
def _trade_vocabulary(folder: Path) -> VocabularyFile:
    paths = sorted(folder.glob("*.toml"))
    if not paths:
        raise GrammarError("no vocabulary files here", mend="install benchvoice again", file=folder)
    return VocabularyFile(**_merge([_read_vocabulary(path) for path in paths]))


def _read_vocabulary(path: Path, *, own: bool = False) -> VocabularyFile:
    """Read a file; templates are looked at in the user's `own` only, for that takes a while."""
    vocabulary, text = read_toml(path, VocabularyFile)
    for error in _term_errors(vocabulary, path, text):
        raise error
    for index, template in enumerate(vocabulary.template if own else ()):
        try:
            spread(template.say)
        except GrammarError as error:
            line = line_of(text, f"$.template[{index}].say")
            raise GrammarError(error.what, mend=error.mend, file=path, line=line) from None
    return vocabulary


def _merge(files: Iterable[Entry]) -> dict[str, Any]:
    merged: dict[str, Any] = {}
    names = [*TERM_KINDS, "correction", "negation", "filler", "template", "alias"]
    sources = list(files)
    for name in names:
        found = [getattr(source, name, ()) for source in sources]
        entries = [entry for terms in found if isinstance(terms, tuple) for entry in terms]
        merged[name] = tuple(_last_of_each_name(entries))
    for name in ("typed", "pronounce"):
        merged[name] = {
            key: value for source in sources for key, value in getattr(source, name, {}).items()
        }
    return merged


def _last_of_each_name(entries: list[Entry]) -> list[Entry]:
    """A later file (the user's, the outline's) may say a term again to change it."""
    by_name = {
        (getattr(entry, "name", id(entry)), getattr(entry, "takes", "")): entry for entry in entries
    }
    return list(by_name.values())


def _term_errors(file: Entry, path: Path, text: str) -> Iterator[GrammarError]:
    for kind in [*TERM_KINDS, "correction", "negation", "filler", "alias"]:
        seen: set[str] = set()
        terms = getattr(file, kind, ())
        for index, term in enumerate(terms if isinstance(terms, tuple) else ()):
            spoken = [*term.say, *getattr(term, "plural", ())]
            if isinstance(term, Term):
                if kind != "unit":
                    spoken.append(term.name)
                key = f"{term.name} {getattr(term, 'takes', '')}"
                if key in seen:
                    yield GrammarError(
                        f'{kind} "{term.name}" stands twice',
                        mend="remove one of them",
                        file=path,
                        line=line_of(text, f"$.{kind}[{index}].name"),
                    )
                seen.add(key)
            for say in spoken:
                key = "name" if say == getattr(term, "name", "") else "say"
                yield from _spoken_errors(say, path, text, f"$.{kind}[{index}].{key}")


def _spoken_errors(say: str, path: Path, text: str, where: str) -> Iterator[GrammarError]:
    if not _SPOKEN.fullmatch(say):
        yield GrammarError(
            f'"{say}" cannot be spoken as it is written',
            mend="use lower-case words with single spaces, numbers in words",
            file=path,
            line=line_of(text, where),
        )
