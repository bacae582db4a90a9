"""What is learnt, put into the user's own word file; its comments and other entries stay."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import msgspec
import platformdirs
import tomlkit
from tomlkit.items import AoT, Array

from benchvoice.errors import GrammarError
from benchvoice.grammar import Pack, load_pack
from benchvoice.grammar.vocabulary import Term
from benchvoice.learning.propose import Proposal
from benchvoice.learning.taught import taught

HOME_VARIABLE = "BENCHVOICE_HOME"
FILE_NAME = "words.toml"
_HEAD = "# Your own words, on top of the trade's, and yours to edit.\n"


def own_file() -> Path:
    """The user's word file: in the folder BENCHVOICE_HOME, or in the system's own place."""
    named = os.environ.get(HOME_VARIABLE)
    home = Path(named) if named else platformdirs.user_config_path("benchvoice", appauthor=False)
    return home / FILE_NAME


def keep(path: Path, proposals: Iterable[Proposal], pack: Pack) -> None:
    """Write proposals into a word file, made if need be; whole or not at all.

    A term is written with all its ways, for the file's words replace the
    trade's of that name.  Raises GrammarError when the result would not be a
    good word file; the file is then as it was.
    """
    proposals = tuple(proposals)
    document = tomlkit.parse(path.read_text(encoding="utf-8") if path.exists() else _HEAD)
    learnt = taught(pack, proposals)
    for proposal in proposals:
        if proposal.kind == "synonym" and proposal.term is not None:
            terms: tuple[Term, ...] = getattr(learnt, proposal.term)
            term = next(one for one in terms if one.name == proposal.meant)
            _put(document, proposal.term, {"name": term.name}, _fields(term))
        elif proposal.kind == "short form":
            _table(document, "typed")[proposal.said] = proposal.meant
        elif proposal.kind == "sound":
            ways = list(learnt.pronounce[proposal.meant])
            _table(document, "pronounce")[proposal.meant] = ways
        else:
            _alias(document, proposal)
    _write(path, tomlkit.dumps(document))


def _fields(term: Term) -> dict[str, Any]:
    """Give what a term has other than its defaults."""
    defaults = {field.name: field.default for field in msgspec.structs.fields(term)}
    built: dict[str, Any] = msgspec.to_builtins(term)
    return {
        name: list(value) if isinstance(value, tuple) else value
        for name, value in built.items()
        if getattr(term, name) != defaults[name]
    }


def _alias(document: tomlkit.TOMLDocument, proposal: Proposal) -> None:
    key = {"outline": proposal.outline, "step": proposal.meant}
    known = next((one for one in document.get("alias", ()) if key.items() <= one.items()), None)
    says = [str(say) for say in known["say"]] if known is not None else []
    _put(document, "alias", key, {**key, "say": list(dict.fromkeys([*says, proposal.said]))})


def _put(
    document: tomlkit.TOMLDocument, kind: str, key: dict[str, Any], fields: dict[str, Any]
) -> None:
    """Put a table in the place of the one with that key, or behind the others."""
    tables = document.get(kind)
    if tables is None:
        tables = document[kind] = tomlkit.aot()
    for table in tables:
        if key.items() <= table.items():
            table.update(fields)
            return
    if isinstance(tables, Array):  # a list of inline tables, as in the trade's files
        inline = tomlkit.inline_table()
        inline.update(fields)
        tables.add_line(inline)
        return
    assert isinstance(tables, AoT)
    table = tomlkit.table()
    table.update(fields)
    tables.append(table)


def _table(document: tomlkit.TOMLDocument, name: str) -> Any:
    if name not in document:
        document[name] = tomlkit.table()
    return document[name]


def _write(path: Path, text: str) -> None:
    new = path.with_name(f".{path.name}.new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        new.write_text(text, encoding="utf-8")
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
