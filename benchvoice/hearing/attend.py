"""What is done with an utterance around any engine's own hearing of it."""

from __future__ import annotations

from collections.abc import Callable

from benchvoice.audio.denoise import Denoiser
from benchvoice.audio.samples import Samples
from benchvoice.hearing.again import Hear, listen_again
from benchvoice.hearing.engine import Heard
from benchvoice.hearing.quieten import quieten


def attend(
    samples: Samples,
    denoiser: Denoiser | None,
    *,
    hear: Hear,
    hear_copy: Hear,
    hopeless: Callable[[Heard], bool],
    judge: Callable[[Heard], Heard],
) -> Heard:
    """Listen to one whole utterance (16 kHz mono), taking the noise out first where there is any.

    What is not clear and not `hopeless` is heard again in a changed copy, by
    `hear_copy`; `judge` says what is made of the guesses.
    """
    if not samples.size:
        return Heard()
    quiet = quieten(samples, denoiser)
    return judge(listen_again(quiet, hear, hear_copy, hopeless))
