"""What is learnt, put into the user's own word file; its comments and other entries stay."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import msgspec
import tomlkit

from benchvoice.grammar import Pack
from benchvoice.grammar.vocabulary import Term
from benchvoice.learning.propose import Proposal
from benchvoice.learning.taught import taught
from benchvoice.words.editing import append, read_list, write_list


def keep(path: Path, proposals: Iterable[Proposal], pack: Pack) -> None:
    """Write proposals into a word file, made if need be; whole or not at all.

    A term is written with all its ways, for the file's words replace the
    trade's of that name.  Raises GrammarError when the result would not be a
    good word file; the file is then as it was.
    """
    proposals = tuple(proposals)
    document = read_list(path)
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
    write_list(path, document)


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
    for table in document.get(kind, ()):
        if key.items() <= table.items():
            table.update(fields)
            return
    append(document, kind, fields)


def _table(document: tomlkit.TOMLDocument, name: str) -> Any:
    if name not in document:
        document[name] = tomlkit.table()
    return document[name]
