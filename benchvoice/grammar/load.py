"""Packs and outlines read from TOML files and checked as a whole."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from benchvoice.errors import GrammarError
from benchvoice.grammar.outline import Outline, Step
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
                _check_spoken(say, path, text, f"$.{kind}[{index}]")


def _check_spoken(say: str, path: Path, text: str, where: str) -> None:
    if not _SPOKEN.fullmatch(say):
        key = "say" if f'name = "{say}"' not in text else "name"
        raise GrammarError(
            f'"{say}" cannot be spoken as it is written',
            mend="use lower-case words with single spaces, numbers in words",
            file=path,
            line=line_of(text, f"{where}.{key}"),
        )


def _check_outline(outline: Outline, path: Path, text: str) -> None:
    seen: set[str] = set()
    ids = {step.id for step in outline.steps()}
    if not ids:
        raise GrammarError("has no steps", mend="add [[stage.step]] tables", file=path)
    for number, stage in enumerate(outline.stage):
        for index, step in enumerate(stage.step):
            where = f"$.stage[{number}].step[{index}]"
            mistake = _step_mistake(step, seen, ids)
            if mistake:
                key, what, mend = mistake
                line = line_of(text, f"{where}.{key}")
                raise GrammarError(what, mend=mend, file=path, line=line)
            for say in step.say:
                _check_spoken(say, path, text, where)
            seen.add(step.id)


def _step_mistake(step: Step, seen: set[str], ids: set[str]) -> tuple[str, str, str] | None:
    """Give (key, what, mend) of the first mistake in a step."""
    if step.id in seen:
        return "id", f'step id "{step.id}" stands twice', "give each step its own id"
    if step.minutes is not None and not step.minutes > 0:
        return "minutes", f"minutes = {step.minutes:g} is no time", "give minutes above 0"
    for before in step.after:
        if before not in ids:
            return "after", f'there is no step "{before}"', "name a step id of this outline"
        if before == step.id:
            return "after", f'step "{before}" cannot come after itself', "remove it"
    for limit in step.limit:
        if limit.low is not None and limit.high is not None and limit.low > limit.high:
            what = f"limit of {limit.quantity}: low {limit.low:g} is above high {limit.high:g}"
            return "limit", what, "swap them"
    for hardware in step.hardware:
        if hardware.count < 1:
            return "hardware", f"{hardware.part}: count {hardware.count}", "give a count above 0"
    return None
