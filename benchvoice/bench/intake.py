"""A microphone's blocks to utterances on the clock of the sitting, past the gate."""

from __future__ import annotations

from collections import deque
from dataclasses import replace

from benchvoice.audio import SAMPLE_RATE, CutSettings, Cutter, Samples, Utterance
from benchvoice.audio.denoise import Denoiser
from benchvoice.bench.gate import Gate

_LOST = 0.3
"""Seconds by which blocks may come late before sound is taken as lost."""


class Intake:
    """Cuts one stream.  What the gate is closed to is not looked at, but its time passes."""

    def __init__(
        self, gate: Gate, settings: CutSettings | None = None, denoiser: Denoiser | None = None
    ) -> None:
        self._gate = gate
        self._cutter = Cutter(settings, denoiser)
        self._waiting: deque[tuple[Samples, float]] = deque()
        self._taken = 0.0  # seconds of sound that the cutter has had
        self._offset: float | None = None
        self._supposed: float | None = None  # the end of the last one that had likely ended

    @property
    def speaking(self) -> bool:
        """Whether an utterance is under way."""
        return self._cutter.speaking

    def push(self, block: Samples, end: float) -> list[Utterance]:
        """Take a block of 16 kHz mono that ended at `end`, seconds of the sitting."""
        self._waiting.append((block, end))
        done: list[Utterance] = []
        while self._waiting and end - self._waiting[0][1] >= self._gate.delay:
            done += self._cut(*self._waiting.popleft())
        return done

    def likely(self) -> Utterance | None:
        """Give, once, the utterance under way when it has most likely ended."""
        found = self._cutter.likely()
        if found is None or found.end == self._supposed:
            return None
        self._supposed = found.end
        return self._placed(found)

    def flush(self) -> list[Utterance]:
        """The stream is over: give what is under way."""
        done: list[Utterance] = []
        while self._waiting:
            done += self._cut(*self._waiting.popleft())
        return done + [self._placed(one) for one in self._cutter.flush()]

    def _cut(self, block: Samples, end: float) -> list[Utterance]:
        seconds = block.size / SAMPLE_RATE
        start = max(0.0, end - seconds)
        if self._offset is None or start - self._taken - self._offset > _LOST:
            self._offset = start - self._taken
        self._taken += seconds
        deaf = not self._gate.sound(start, end)
        return [self._placed(one) for one in self._cutter.push(block, deaf=deaf)]

    def _placed(self, utterance: Utterance) -> Utterance:
        offset = self._offset or 0.0
        return replace(utterance, start=utterance.start + offset, end=utterance.end + offset)
