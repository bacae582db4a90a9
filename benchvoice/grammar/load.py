"""Packs and outlines read from TOML files and checked as a whole."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from benchvoice.errors import GrammarError
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.outline_check import outline_mistakes, spoken_words
from benchvoice.grammar.pack import TERM_KINDS, Pack
from benchvoice.grammar.toml_file import line_of, read_toml
from benchvoice.grammar.vocabulary import Entry, Term, VocabularyFile

_SPOKEN = re.compile(r"[a-z']+( [a-z']+)*( \{(step|number|count)\})?")


def grammars_folder() -> Path:
    """The folder of the grammars that come with benchvoice (in a wheel or a checkout)."""
    inside = Path(__file__).parent.parent / "grammars"
    return inside if inside.is_dir() else Path(__file__).parents[2] / "grammars"


def load_pack(outline: Outline | None = None, extra: Sequence[Path] = ()) -> Pack:
    """Load the trade vocabulary, the user's `extra` files, and the words of `outline`.

    Raises GrammarError naming file, line and mend.
    """
    base = _trade_vocabulary(grammars_folder() / "trade")
    own = [_read_vocabulary(path) for path in extra]
    merged = _merge([base, *own, *([outline] if outline else [])])
    return Pack(**merged, outline=outline)


def load_outline(name: str | Path) -> Outline:
    """Load an outline by path, or by the name of one that comes with benchvoice.

    Raises GrammarError naming file, line and mend.
    """
    path = Path(name)
    folder = grammars_folder() / "outlines"
    if not path.suffix and not path.exists():
        path = folder / f"{name}.toml"
    if not path.is_file():
        known = ", ".join(sorted(found.stem for found in folder.glob("*.toml")))
        raise GrammarError("no such outline", mend=f"give a path or one of: {known}", file=name)
    outline, text = read_toml(path, Outline)
    _check_terms(outline, path, text)
    _check_outline(outline, path, text)
    return outline


@cache
def _trade_vocabulary(folder: Path) -> VocabularyFile:
    paths = sorted(folder.glob("*.toml"))
    if not paths:
        raise GrammarError("no vocabulary files here", mend="install benchvoice again", file=folder)
    return VocabularyFile(**_merge([_read_vocabulary(path) for path in paths]))


def _read_vocabulary(path: Path) -> VocabularyFile:
    vocabulary, text = read_toml(path, VocabularyFile)
    _check_terms(vocabulary, path, text)
    return vocabulary


def _merge(files: Iterable[Entry]) -> dict[str, Any]:
    merged: dict[str, Any] = {}
    names = [*TERM_KINDS, "correction", "negation", "filler", "template"]
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


def _check_terms(file: Entry, path: Path, text: str) -> None:
    for kind in [*TERM_KINDS, "correction", "negation", "filler"]:
        seen: set[str] = set()
        terms = getattr(file, kind, ())
        for index, term in enumerate(terms if isinstance(terms, tuple) else ()):
            spoken = [*term.say, *getattr(term, "plural", ())]
            if isinstance(term, Term):
                if kind != "unit":
                    spoken.append(term.name)
                key = f"{term.name} {getattr(term, 'takes', '')}"
                if key in seen:
                    raise GrammarError(
                        f'{kind} "{term.name}" stands twice',
                        mend="remove one of them",
                        file=path,
                        line=line_of(text, f"$.{kind}[{index}].name"),
                    )
                seen.add(key)
            for say in spoken:
                key = "name" if say == getattr(term, "name", "") else "say"
                _check_spoken(say, path, text, f"$.{kind}[{index}].{key}")


def _check_spoken(say: str, path: Path, text: str, where: str) -> None:
    if not _SPOKEN.fullmatch(say):
        raise GrammarError(
            f'"{say}" cannot be spoken as it is written',
            mend="use lower-case words with single spaces, numbers in words",
            file=path,
            line=line_of(text, where),
        )


def _check_outline(outline: Outline, path: Path, text: str) -> None:
    if not any(True for _ in outline.steps()):
        raise GrammarError("has no steps", mend="add [[stage.step]] tables", file=path)
    for mistake in outline_mistakes(outline):
        line = line_of(text, mistake.where)
        raise GrammarError(mistake.what, mend=mistake.mend, file=path, line=line)
    for spoken in spoken_words(outline):
        _check_spoken(spoken.words, path, text, spoken.where)
