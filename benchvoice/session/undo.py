"""Taking corrections back, and taking that back: both are corrections themselves."""

from __future__ import annotations

from benchvoice.errors import BadInput
from benchvoice.session.standing import in_force
from benchvoice.session.values import Correction, Session


def undo(session: Session) -> Correction:
    """Take back the last correction in force.  Raises BadInput when there is none."""
    done, _ = _stacks(session)
    if not done:
        raise BadInput("there is no correction to undo")
    return Correction(undoes=done[-1])


def redo(session: Session) -> Correction:
    """Bring back what was undone last; after a new correction there is nothing to bring back.

    Raises BadInput when there is nothing.
    """
    _, undone = _stacks(session)
    if not undone:
        raise BadInput("there is nothing to redo")
    return Correction(undoes=undone[-1])


def take_back(session: Session, seq: int) -> Correction:
    """Take back correction `seq`, which need not be the last (or, when it is an undo, that undo).

    Raises BadInput when it is not in force, or when a later correction builds on it.
    """
    applied = in_force(session.amendments)
    by_seq = {one.seq: one for one in session.amendments}
    if seq not in by_seq:
        raise BadInput(f"there is no correction {seq}", mend="see them in the session's history")
    if seq not in applied:
        raise BadInput(f"correction {seq} is taken back already")
    target = by_seq[seq]
    changed = by_seq.get(target.undoes or 0, target)
    if changed.undoes is not None:  # a redo: to take it back is to undo once more what it redid
        return take_back(session, changed.undoes)
    touched = changed.touched
    for later in session.amendments:
        if later.seq > changed.seq and later.seq in applied and touched & later.touched:
            raise BadInput(
                f"correction {later.seq} changed the same entries after it",
                mend="take that one back first",
            )
    return Correction(undoes=seq)


def _stacks(session: Session) -> tuple[list[int], list[int]]:
    """Give the `seq` of what can be undone, and of the undos that can be; the last at the end."""
    undoes = {one.seq: one.undoes for one in session.amendments}
    done: list[int] = []
    undone: list[int] = []
    for seq, target in undoes.items():
        if target is None:
            done.append(seq)
            undone.clear()
        elif target in done:
            done.remove(target)
            undone.append(seq)
        elif target in undone:
            undone.remove(target)
            done.append(undoes[target] or 0)
    return done, undone
