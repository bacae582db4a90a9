"""A pack with proposals taken into it: what the user's word file will say, without writing it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec.structs import replace

from benchvoice.grammar import Pack
from benchvoice.grammar.vocabulary import StepAlias, Term
from benchvoice.learning.propose import Proposal


def taught(pack: Pack, proposals: Iterable[Proposal]) -> Pack:
    """Give the pack with the proposals in it; those of other outlines' steps change nothing."""
    changes: dict[str, Any] = {}
    for proposal in proposals:
        if proposal.kind == "synonym" and proposal.term is not None:
            terms: tuple[Term, ...] = changes.get(proposal.term, getattr(pack, proposal.term))
            changes[proposal.term] = tuple(_with_say(term, proposal) for term in terms)
        elif proposal.kind == "short form":
            typed = changes.get("typed", pack.typed)
            changes["typed"] = {**typed, proposal.said: proposal.meant}
        elif proposal.kind == "sound":
            sounds = changes.get("pronounce", pack.pronounce)
            ways = dict.fromkeys([*sounds.get(proposal.meant, ()), *proposal.sounds])
            changes["pronounce"] = {**sounds, proposal.meant: tuple(ways)}
        elif proposal.kind == "step" and proposal.outline is not None:
            alias = StepAlias(outline=proposal.outline, step=proposal.meant, say=(proposal.said,))
            changes["alias"] = (*changes.get("alias", pack.alias), alias)
    outline = pack.outline
    if outline is not None and "alias" in changes:
        changes["outline"] = outline.called(changes["alias"])
    return replace(pack, **changes)


def _with_say(term: Term, proposal: Proposal) -> Term:
    if term.name != proposal.meant or proposal.said in term.say:
        return term
    return replace(term, say=(*term.say, proposal.said))
