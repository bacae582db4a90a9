"""Which steps have to do with one another: what comes off in one goes back in another."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from benchvoice.follow.hmm import Floats
from benchvoice.grammar.outline import Outline, StageKind

_MIRROR = 0.2
"""How far from the mirrored place of its removal a part may go back, as a share of the row; set by
hand."""


def put_back(outline: Outline) -> Floats:
    """Give how likely (S, S) what comes off in each step (column) goes back in each (row).

    Where the outline does not say it, by common practice (no source): units go together in the
    reverse of the order that they came apart, so by the place in the row of stripping, turned
    round, among the steps of assembling and testing.
    """
    steps = tuple(outline.steps())
    if any(step.puts_back for step in steps):
        return np.array([[one.id in step.puts_back for one in steps] for step in steps], float)
    back, strips = _of_stages(outline, ("assemble", "test")), _of_stages(outline, ("strip",))
    at = np.arange(len(steps))
    come_off = (at - strips.argmax()) / max(1, strips.sum() - 1)
    go_on = (at - back.argmax()) / max(1, back.sum() - 1)
    apart = (1.0 - go_on)[:, None] - come_off[None, :]
    near: Floats = np.exp(-0.5 * (apart / _MIRROR) ** 2) * back[:, None] * strips[None, :]
    return near


def _of_stages(outline: Outline, kinds: Sequence[StageKind]) -> Floats:
    return np.array([stage.kind in kinds for stage in outline.stage for _ in stage.step], float)
