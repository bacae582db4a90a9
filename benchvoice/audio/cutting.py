"""A stream of blocks cut into utterances, at its pauses."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from benchvoice.audio.denoise import Denoiser
from benchvoice.audio.radio import Radio
from benchvoice.audio.samples import QUIETEST_DBFS, SAMPLE_RATE, Samples, level_dbfs

_FRAME = 480
"""Samples in one decision: 30 ms, the longest frame that webrtcvad takes."""
_FRAME_SECONDS = _FRAME / SAMPLE_RATE


@dataclass(frozen=True)
class CutSettings:
    """How speech is told from the rest.  Times in seconds, levels in dB.

    A pause of `endpoint` ends an utterance; `min_speech` of voice makes one.
    `pre_roll` is kept before the first voice and `padding` after the last.
    """

    aggressiveness: int = 2
    """webrtcvad's: 0 takes most for speech, 3 least."""
    pre_roll: float = 0.3
    endpoint: float = 0.6
    likely: float = 0.24
    """After a pause of this an utterance has most likely ended."""
    min_speech: float = 0.15
    max_length: float = 20.0
    padding: float = 0.15
    margin_db: float = 6.0
    """How far above the noise floor a voice must stand."""
    quietest_dbfs: float = -60.0
    """Below this nothing is a voice, however quiet the room."""
    beneath_db: float = 12.0
    """What stays this far beneath the loudest of an utterance is somebody else, or a radio."""
    beneath: float = 0.15
    """That for so much longer than `endpoint` ends an utterance as a pause does."""
    radio_db: float = 9.0
    """Where there may be a radio, talk this far beneath does so too; without one it would part
    remarks that have a softer half."""
    lead_in: float = 1.0
    """More than this of it is cut off before the first loud moment."""


@dataclass(frozen=True, eq=False)
class Utterance:
    """One remark's sound: 16 kHz mono `samples`, and where it was in the stream (seconds)."""

    samples: Samples
    start: float
    end: float


class NoiseFloor:
    """Follows the level of the shop without voices, in dBFS.

    Falls within a few frames, rises within a second or two while nobody
    speaks, and by at most 1 dB a second while somebody does, so that a noise
    that the voice detector takes for speech is learnt in the end.
    """

    def __init__(self, start_dbfs: float = -60.0) -> None:
        self.level = start_dbfs

    def update(self, level: float, speech: bool) -> None:
        """Take the level of one frame and whether the detector called it speech."""
        if level < self.level:
            self.level += 0.3 * (level - self.level)
        elif speech:
            self.level += min(1.0 * _FRAME_SECONDS, level - self.level)
        else:
            self.level += 0.03 * (level - self.level)


@dataclass(frozen=True, eq=False)
class _Frame:
    samples: Samples
    level: float
    talk: bool
    """Whether somebody speaks, a radio perhaps."""
    voiced: bool
    """Whether somebody near speaks."""
    around: float
    """Level of the third of a second that ends with the frame, dBFS."""
    heard: float
    """The same of the sound as it came, not denoised."""


class Cutter:
    """Cuts a live stream: `push` blocks of any length, take the utterances that are complete.

    With a denoiser voices are looked for in the clean sound, and utterances
    end some 50 ms later; their samples are those of the stream, as they came.
    """

    def __init__(
        self, settings: CutSettings | None = None, denoiser: Denoiser | None = None
    ) -> None:
        self.settings = settings or CutSettings()
        self._clean = denoiser.stream() if denoiser is not None else None
        import webrtcvad  # late: it looks through all installed packages

        self._vad = webrtcvad.Vad(self.settings.aggressiveness)
        self._floor = NoiseFloor()
        self._radio = Radio()
        self._around, self._heard = _Around(), _Around()
        self._rest: Samples = np.zeros(0, dtype=np.int16)
        self._clean_rest: Samples = self._rest  # ahead of or behind `_rest`, from the same sample
        self._deaf_rest = np.zeros(0, dtype=np.bool_)  # as long as `_rest`
        self._taken = 0  # frames seen so far
        self._ahead = max(_TRIGGER_WINDOW, _frames(self.settings.pre_roll))
        self._before: deque[_Frame] = deque(maxlen=self._ahead + _LATE)
        self._frames_in: list[_Frame] = []  # of the utterance under way; empty between two
        self._last_voiced = 0  # its last voiced frame, counted in it
        self._loudest = QUIETEST_DBFS  # of its talk, as it was heard

    @property
    def speaking(self) -> bool:
        """Whether an utterance is under way."""
        return bool(self._frames_in)

    @property
    def floor_dbfs(self) -> float:
        """The noise floor as learnt so far, dBFS; with a denoiser, of what it leaves."""
        return self._floor.level

    def push(self, block: Samples, *, deaf: bool = False) -> list[Utterance]:
        """Take a block of 16 kHz mono samples; give the utterances that ended in it.

        A `deaf` block is taken as silence that tells nothing of the room.
        """
        if deaf:
            block = np.zeros_like(block)
        clean = block if self._clean is None else self._clean.push(block)
        return self._take(block, clean, deaf)

    def flush(self) -> list[Utterance]:
        """End the stream: give the utterances under way, if any."""
        done: list[Utterance] = []
        if self._clean is not None:
            done = self._take(self._rest[:0], self._clean.finish(), False)
        return done + (self._finish() if self._frames_in else [])

    def _take(self, block: Samples, clean: Samples, deaf: bool) -> list[Utterance]:
        """Judge the frames of which both the sound and the clean sound are there."""
        samples = np.concatenate((self._rest, block))
        unheard = np.concatenate((self._deaf_rest, np.full(block.size, deaf)))
        clean = np.concatenate((self._clean_rest, clean))
        ready = min(samples.size, clean.size)
        whole = ready - ready % _FRAME
        done: list[Utterance] = []
        for at in range(0, whole, _FRAME):
            part = slice(at, at + _FRAME)
            done += self._step(samples[part], clean[part], bool(unheard[part].any()))
        self._rest, self._clean_rest = samples[whole:].copy(), clean[whole:].copy()
        self._deaf_rest = unheard[whole:].copy()
        return done

    def _step(self, samples: Samples, clean: Samples, deaf: bool) -> list[Utterance]:
        if deaf:
            level = self._floor.level
            frame = _Frame(np.zeros_like(samples), level, False, False, level, QUIETEST_DBFS)
        else:
            frame = self._judge(samples, clean)
        self._taken += 1
        if not self._frames_in:
            self._before.append(frame)
            self._maybe_start()
            # our own voice tells nothing of a radio: one that was on is on after it
            if not self._frames_in and not (deaf and self._radio.is_on):
                self._radio.hear(frame.heard, frame.talk)
            return []
        self._frames_in.append(frame)
        if frame.talk:
            self._loudest = max(self._loudest, frame.heard)
        here = len(self._frames_in) - 1
        # one voiced frame alone is a click, not the speaker going on
        if frame.voiced and self._frames_in[-2].voiced:
            self._last_voiced = here
        if here - self._last_voiced >= _frames(self.settings.endpoint):
            return self._finish()
        last_loud = self._last_loud()
        if here - last_loud >= _frames(self.settings.endpoint) + _frames(self.settings.beneath):
            self._last_voiced = min(self._last_voiced, last_loud)
            return self._finish()
        if len(self._frames_in) >= _frames(self.settings.max_length):
            return self._split()
        return []

    def _judge(self, samples: Samples, clean: Samples) -> _Frame:
        level = level_dbfs(clean)
        speech = bool(self._vad.is_speech(clean.tobytes(), SAMPLE_RATE))
        threshold = max(self._floor.level + self.settings.margin_db, self.settings.quietest_dbfs)
        self._floor.update(level, speech)
        around, heard = self._around.add(level), self._heard.add(level_dbfs(samples))
        talk = speech and level > threshold
        near = talk and heard > self._radio.least(self._loudest if self._frames_in else None)
        return _Frame(samples.copy(), level, talk, near, around, heard)

    def _last_loud(self) -> int:
        """Give the last frame of the utterance under way that is not far beneath its voice."""
        frames = self._frames_in
        loud = self._loud(frames)
        if not self._radio.may_be_on:
            return loud[-1]
        near = self._near(frames)[-1]
        after = [frame.talk for frame in frames[near + 1 :]]
        goes_on = sum(after) >= _GOES_ON * len(after)
        return min(loud[-1], near) if goes_on else loud[-1]

    def _loud(self, frames: list[_Frame]) -> list[int]:
        """Give which frames are of the loudest voice among them."""
        return _within([frame.around for frame in frames], self.settings.beneath_db)

    def _near(self, frames: list[_Frame]) -> list[int]:
        """Give which frames are of the loudest sound among them, over a radio."""
        return _within([frame.heard for frame in frames], self.settings.radio_db)

    def _maybe_start(self) -> None:
        late = _LATE if self._radio.is_on else 0
        before = list(self._before)[-(self._ahead + late) :]
        recent = before[-_TRIGGER_WINDOW:]
        if sum(frame.voiced for frame in recent) < _TRIGGER_VOICED:
            return
        first = len(before) - len(recent) + [f.voiced for f in recent].index(True)
        keep = min(first, _frames(self.settings.pre_roll) + late)
        self._frames_in = before[first - keep :]
        self._before.clear()
        self._last_voiced = len(self._frames_in) - 1
        self._loudest = max(frame.heard for frame in recent if frame.voiced)

    def likely(self) -> Utterance | None:
        """Give the utterance under way just as it will be if nothing more is said.

        None until there is a pause that makes that likely.
        """
        pause = len(self._frames_in) - 1 - self._last_voiced
        enough = max(_frames(self.settings.likely), _frames(self.settings.padding))
        if not self._frames_in or pause < enough:
            return None
        frames = self._frames_in[: self._end()]
        return self._utterance(frames, self._lead(frames))

    def _finish(self) -> list[Utterance]:
        frames, end = self._frames_in, self._end()
        lead = self._lead(frames[:end])
        utterance = self._utterance(frames[:end], lead)
        self._frames_in = []
        self._before.extend(frames[end:])
        for frame in frames[:lead] + frames[end:]:
            self._radio.hear(frame.heard, frame.talk)
        if utterance is not None:
            self._radio.spoken(self._loudest)
        return [utterance] if utterance else []

    def _end(self) -> int:
        """Give how many frames the utterance under way has, were it to end now."""
        return min(len(self._frames_in), self._last_voiced + 1 + _frames(self.settings.padding))

    def _split(self) -> list[Utterance]:
        """Too long for one remark: part it at the quietest frame of its last quarter."""
        frames = self._frames_in
        tail = range(len(frames) * 3 // 4, len(frames) - 1)
        at = min(tail, key=lambda index: frames[index].level)
        utterance = self._utterance(frames[:at], self._lead(frames[:at]))
        self._frames_in = frames[at:]
        self._last_voiced = max(0, self._last_voiced - at)
        return [utterance] if utterance else []

    def _utterance(self, frames: list[_Frame], lead: int) -> Utterance | None:
        """Make an utterance of the first frames of the one under way, but for `lead` of them."""
        frames = frames[lead:]
        if sum(frame.voiced for frame in frames) < _frames(self.settings.min_speech):
            return None
        samples: Samples = np.concatenate([frame.samples for frame in frames])
        start = (self._taken - len(self._frames_in) + lead) * _FRAME_SECONDS
        return Utterance(samples, round(start, 3), round(start + samples.size / SAMPLE_RATE, 3))

    def _lead(self, frames: list[_Frame]) -> int:
        """Give how many of the first frames are a radio's or somebody else's."""
        loud = self._near(frames) if self._radio.may_be_on else self._loud(frames)
        lead = loud[0] - _AROUND
        return (
            lead - _frames(self.settings.pre_roll) if lead > _frames(self.settings.lead_in) else 0
        )


def _frames(seconds: float) -> int:
    return round(seconds / _FRAME_SECONDS)


def _within(levels: list[float], span: float) -> list[int]:
    """Give which levels are less than `span` dB beneath the loudest."""
    least = max(levels) - span
    return [at for at, level in enumerate(levels) if level > least]


class _Around:
    """The level of the last third of a second, by the levels of frames."""

    def __init__(self) -> None:
        self._powers: deque[float] = deque(maxlen=_AROUND)

    def add(self, level: float) -> float:
        """Take the level of the next frame, give that around it; both dBFS."""
        self._powers.append(10 ** (level / 10))
        return 10 * math.log10(sum(self._powers) / len(self._powers))


_AROUND = 10
"""Frames over which a level is taken that single sounds and blows do not sway."""
_LATE = 3
"""Frames by which a voice stands out from a radio later than from silence."""
_GOES_ON = 0.9
"""Share of talk in what goes on like a radio; a pause of the speaker has less."""
_TRIGGER_WINDOW = 5
_TRIGGER_VOICED = 3
"""Three voiced frames among five start an utterance; a hammer blow has fewer."""


def cut(
    blocks: Iterable[Samples],
    settings: CutSettings | None = None,
    denoiser: Denoiser | None = None,
) -> Iterator[Utterance]:
    """Yield the utterances of a stream of 16 kHz mono blocks, each as soon as it has ended.

    `blocks` may be endless.  Times are seconds from the first sample.  A
    `denoiser` helps to find voices in noise.
    """
    cutter = Cutter(settings, denoiser)
    for block in blocks:
        yield from cutter.push(block)
    yield from cutter.flush()
