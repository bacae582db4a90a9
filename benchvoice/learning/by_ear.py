"""What learning is worth to the ear: clips of corrected remarks listened to again."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from benchvoice.audio import SAMPLE_RATE, Utterance, read_blocks
from benchvoice.bench.ears import Ears
from benchvoice.grammar import Pack
from benchvoice.language import Parser
from benchvoice.learning.gain import FOLDS, meaning
from benchvoice.learning.pairs import Pair
from benchvoice.learning.propose import Sounding, propose
from benchvoice.learning.taught import taught
from benchvoice.remark import Frozen


class EarGain(Frozen, frozen=True, kw_only=True):
    """How many of the `clips` held out were heard exactly as corrected, `before` and `after`."""

    clips: int
    before: int
    after: int


def measure_by_ear(
    pairs: Sequence[Pair],
    pack: Pack,
    make: Callable[[Pack], Ears],
    sounding: Sounding,
    least: int = 1,
) -> EarGain:
    """Listen to every third clip again, with the pack and with what the other pairs teach.

    `make` gives ears for a pack; two are made.  Raises AudioError for a clip
    that cannot be read.
    """
    held = [pair for pair in pairs if _can_be_heard(pair)][::FOLDS]
    if not held:
        return EarGain(clips=0, before=0, after=0)
    seqs = {(pair.session, pair.seq) for pair in held}
    rest = [pair for pair in pairs if (pair.session, pair.seq) not in seqs]
    learnt = taught(pack, propose(rest, pack, sounding, least))
    truth = Parser(pack)
    right = []
    for ears in (make(pack), make(learnt)):
        heard = [meaning(ears.hear(_utterance(pair)).remark) for pair in held]
        meant = [meaning(truth.parse(pair.became)) for pair in held]
        right.append(sum(one == other for one, other in zip(heard, meant, strict=True)))
    return EarGain(clips=len(held), before=right[0], after=right[1])


def _can_be_heard(pair: Pair) -> bool:
    return pair.retyped and pair.clip is not None and pair.clip.is_file()


def _utterance(pair: Pair) -> Utterance:
    assert pair.clip is not None
    samples = np.concatenate([*read_blocks(pair.clip)])
    return Utterance(samples, 0.0, samples.size / SAMPLE_RATE)
