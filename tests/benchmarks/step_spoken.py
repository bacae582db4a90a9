"""Generated jobs spoken by the natural voices and heard by the embedded engine, kept on disk.

What is kept is named by all that decides it (what was said, and the code of hearing and cutting),
so a folder can be used again as it is; only what follows the hearing is done anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from functools import cached_property
from pathlib import Path

import msgspec
from hearing_noise import CACHE, LEAD, PAUSE, QUIET_RATIO, cut_stream, owner, recording
from hearing_sets import Said
from noises import NOISES
from scoring import Truth
from step_sessions import Bench, Line
from voices import NATURAL, PACES, RATE

from benchvoice import audio
from benchvoice.audio.denoise import open_denoiser
from benchvoice.bench.ears import Ears, build_engine, sentences_name
from benchvoice.hearing import Heard as Guesses

CONDITIONS = {"clean": QUIET_RATIO, "20 dB": 20.0, "10 dB": 10.0}
"""Power of the remarks to that of the noise; the noises take turns, a stretch of the job each."""


class Cut(msgspec.Struct, frozen=True):
    """One utterance: seconds of the job, the number of the line that most of it is of (None for a
    noise), and what the engine made of it."""

    start: float
    end: float
    line: int | None
    heard: Guesses


class Shop:
    """Speaks and hears jobs on one outline; the engine is only made when there is need of it."""

    def __init__(self, bench: Bench, folder: Path) -> None:
        self._bench, self._folder = bench, folder

    @cached_property
    def _ears(self) -> Ears:
        engine = build_engine(self._bench.pack, "pocketsphinx", cache=CACHE)
        return Ears(self._bench.pack, engine, open_denoiser())

    def hear(self, lines: Sequence[Line], condition: str) -> list[Cut]:
        """Give the utterances of a job, in the order heard."""
        path = self._folder / f"{self._bench.name} {condition} {self._name(lines, condition)}.json"
        if not path.is_file():
            self._folder.mkdir(parents=True, exist_ok=True)
            path.write_bytes(msgspec.json.encode(self._heard(lines, condition)))
        return msgspec.json.decode(path.read_bytes(), type=list[Cut])

    def _name(self, lines: Sequence[Line], condition: str) -> str:
        code = [*Path(audio.__path__[0]).glob("*.py"), Path(__file__)]
        digest = hashlib.blake2b(sentences_name(self._bench.pack).encode(), digest_size=8)
        digest.update(repr((condition, [line.say for line in lines])).encode())
        for one in sorted(code):
            digest.update(one.read_bytes())
        return digest.hexdigest()

    def _heard(self, lines: Sequence[Line], condition: str) -> list[Cut]:
        said = [
            Said(
                Truth(say=line.say),
                NATURAL[at % len(NATURAL)],
                PACES[at // len(NATURAL) % len(PACES)],
            )
            for at, line in enumerate(lines)
        ]
        size = -(-len(said) // len(NOISES))
        cuts: list[Cut] = []
        for turn, noise in enumerate(NOISES):
            cuts += self._stretch(said, turn * size, size, (condition, noise))
        return cuts

    def _stretch(
        self, said: Sequence[Said], begin: int, size: int, place: tuple[str, str]
    ) -> list[Cut]:
        condition, noise = place
        kind = "white" if condition == "clean" else noise
        part = said[begin : begin + size]
        if not part:
            return []
        sound, spans = recording(part, kind, CONDITIONS[condition])
        ears, since = self._ears, begin * (LEAD + PAUSE + 20.0)  # later than all before
        cuts = []
        for one in cut_stream(sound, ears.denoiser):
            of = owner(one, spans)
            line = None if of is None else begin + of
            cuts.append(Cut(since + one.start, since + one.end, line, ears.words(one)))
        assert sound.size / RATE < size * (LEAD + PAUSE + 20.0)
        return cuts
