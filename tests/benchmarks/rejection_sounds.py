"""The sounds that telling talk from remarks is fitted and measured on: remarks in noise, and talk.

Remarks are clean, at 20 dB and at 10 dB in the noises of a shop by turns.
Talk is clean, quiet (as from across the shop), or at 20 dB, by turns, and
there is a radio.  Radio and recordings are cut as at the bench; of what is
spoken here it is known where it begins and ends.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from chatter import Half, talk
from hearing_noise import cut_stream
from hearing_sets import Said, remarks
from noises import NOISES, babble, mixed
from voices import LEVEL_DBFS, RATE, VOICES, Sound, speak

from benchvoice.audio import CutSettings, Samples, read_blocks
from benchvoice.audio.denoise import Denoiser
from benchvoice.errors import AudioError

CLEAN = 40.0
"""The ratio called clean: white noise at -66 dBFS."""
RATIOS = {"clean": CLEAN, "20 dB": 20.0, "10 dB": 10.0}
_BEFORE, _AFTER = CutSettings().pre_roll, CutSettings().padding
_QUIET_DB = 12.0
_CLEAN_TALK, _QUIET_TALK = ("clean", CLEAN, 0.0), ("quiet", CLEAN, _QUIET_DB)
_TALK_SETTINGS = (_CLEAN_TALK, _QUIET_TALK, _CLEAN_TALK, ("20 dB", 20.0, 0.0))


@dataclass(frozen=True, eq=False)
class Spoken:
    """One utterance as it was cut; `said` when it is a remark.

    `source` is "remark" or the kind of talk, `setting` how it sounded.
    """

    source: str
    setting: str
    voice: str
    text: str
    samples: Samples
    said: Said | None = None


def spoken_remarks(half: Half, count: int) -> Iterator[Spoken]:
    """Speak remarks in all settings."""
    for at, one in enumerate(remarks(half, count)):
        sound = speak(one.voice, one.truth.say, one.pace)
        said = Spoken("remark", "", one.voice, one.truth.say, sound, one)
        for setting, ratio in RATIOS.items():
            yield _laid(replace(said, setting=setting), ratio, at)


def spoken_talk(half: Half, sentences: int) -> Iterator[Spoken]:
    """Speak talk that is not for the bench, voices and settings by turns."""
    every = [(kind, text) for kind, texts in talk(half, sentences).items() for text in texts]
    random.Random(half).shuffle(every)
    for at, (kind, text) in enumerate(every):
        voice = VOICES[at % len(VOICES)]
        setting, ratio, softer = _TALK_SETTINGS[at // len(VOICES) % len(_TALK_SETTINGS)]
        sound = speak(voice, text) * 10 ** (-softer / 20)
        yield _laid(Spoken(kind, setting, voice, text, np.rint(sound).astype(np.int16)), ratio, at)


def radio(half: Half, minutes: int, cleaner: Denoiser | None) -> Iterator[Spoken]:
    """Play a radio, every other minute as loud as somebody at the bench, else 15 dB below."""
    for at in range(minutes):
        level = LEVEL_DBFS - 15 * (at % 2)
        wave = babble(60 * RATE, np.random.default_rng([at, *half.encode()]))
        sound = mixed(np.zeros(wave.size, dtype=np.int16), wave, 0.0, level)
        for one in cut_stream(sound, cleaner):
            yield Spoken("radio", "loud" if at % 2 == 0 else "quiet", "radio", "", one.samples)


def people(folder: Path, cleaner: Denoiser | None) -> Iterator[Spoken]:
    """Play recordings of people, each a file, brought to the level of the synthetic voices.

    What cannot be read is passed over, and said so.
    """
    for path in sorted(folder.rglob("*.wav")) + sorted(folder.rglob("*.g722")):
        try:
            sound = _read(path)
        except AudioError as error:
            print(f"passed over: {error}", file=sys.stderr)
            continue
        loud = np.sqrt(np.mean(sound.astype(float) ** 2)) if sound.size else 0.0
        if loud < 1.0:
            continue
        level = 32768 * 10 ** (LEVEL_DBFS / 20) / loud
        sound = np.clip(sound * level, -32768, 32767).astype(np.int16)
        for one in cut_stream(np.pad(sound, (RATE, RATE)), cleaner):
            yield Spoken("people", "as recorded", path.parent.name, path.stem, one.samples)


def _read(path: Path) -> Sound:
    """Read a recording as 16 kHz mono; raises AudioError."""
    if path.suffix == ".wav":
        return np.concatenate(list(read_blocks(path)))
    import av

    try:
        with av.open(str(path), format="g722") as opened:
            parts = [frame.to_ndarray().reshape(-1) for frame in opened.decode(audio=0)]
    except av.FFmpegError as error:
        raise AudioError(f"cannot be read: {error}", mend="take it out", file=path) from error
    return np.concatenate(parts).astype(np.int16) if parts else np.zeros(0, dtype=np.int16)


def _laid(spoken: Spoken, ratio: float, seed: int) -> Spoken:
    """Lay speech on its noise, with as much before and after it as the cutter keeps."""
    whole = np.pad(spoken.samples, (round(_BEFORE * RATE), round(_AFTER * RATE)))
    rng = np.random.default_rng([seed, round(ratio), *spoken.source.encode()])
    noise = list(NOISES)[seed % len(NOISES)]
    wave = rng.normal(size=whole.size) if ratio >= CLEAN else NOISES[noise](whole.size, rng)
    return replace(spoken, samples=mixed(whole, wave, ratio, LEVEL_DBFS))
