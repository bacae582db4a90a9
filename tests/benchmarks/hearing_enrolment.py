"""What enrolment gains: word errors of a voice on sentences that it did not read for it.

    python tests/benchmarks/hearing_enrolment.py [--voices espeak,slt,joe] [--read N] [--test N]
        [--remarks SET] [--noise NAME] [--ratio DB] [--alone] [--people FOLDER]

Each voice reads the sentences that `benchvoice enrol` would show, and then
other sentences of the grammar, or with --remarks those of the set "dev" or
"test" (many are not as the grammar has them), all over white noise at -66 dBFS,
or those with a noise of `noises.py` at a ratio; the engine hears them as at the
bench: as it is, with means turned by one linear transform (MLLR), and with what
enrolment keeps (those, drawn on by what was said of each Gaussian: MAP).
With --alone there is no second opinion, else there is where its model is
installed.

FOLDER is `test/data` of a PocketSphinx source distribution.  The one person
there with some sentences reads five of a novel; each is heard with the means
of the other four, with PocketSphinx's own trigrams of general English, as
none of ours has those words.
"""

from __future__ import annotations

import argparse
import re
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
from hearing_sets import bench_pack, plain, remarks
from noises import NOISES, mixed
from voices import LEVEL_DBFS, VOICES, Sound, speak

from benchvoice.audio.denoise import open_denoiser
from benchvoice.bench.ears import cache_folder, sentences_name
from benchvoice.bench.enrolment import sentences_to_read, word_errors
from benchvoice.grammar import Pack
from benchvoice.grammar.generate import sentences
from benchvoice.hearing import Engine, open_engine
from benchvoice.hearing.acoustic import AcousticModel, Floats, read_acoustic_model
from benchvoice.hearing.adapting import adapted_means, turned_means
from benchvoice.hearing.aligning import Aligned, Aligner
from benchvoice.hearing.cepstra import cepstra
from benchvoice.hearing.channel import matched, speech_mixture
from benchvoice.hearing.general_model import find_general_model
from benchvoice.hearing.own_voice import voice_setting, write_voice
from benchvoice.hearing.pocketsphinx_engine import decode
from benchvoice.hearing.pronounce import model_folder
from benchvoice.hearing.taught import write_features

BEFORE, AFTER = 4800, 2400
QUIET_RATIO = 40.0
FOLDER = model_folder() / "en-us"
STAGES: dict[str, Callable[[AcousticModel, Sequence[Aligned]], Floats] | None] = {
    "before": None,
    "MLLR": turned_means,
    "MLLR and MAP": adapted_means,
}
Spoken = tuple[str, Sound]
Write = Callable[[Sound], str]
"""What writes down one recording."""


def recorded(
    voice: str, text: str, seed: int, noise: str = "", ratio: float = QUIET_RATIO
) -> Sound:
    """Give a voice saying a text, with the room around it."""
    sound = np.pad(speak(voice, text), (BEFORE, AFTER))
    rng = np.random.default_rng(seed)
    wave = NOISES[noise](sound.size, rng) if noise else rng.normal(size=sound.size)
    return mixed(sound, wave, ratio, LEVEL_DBFS)


def to_be_heard(pack: Pack, which: str | None, count: int) -> list[str]:
    """Give remarks of a set, or sentences of the grammar."""
    if which is not None:
        return [plain(one.truth.say) for one in remarks(which, count)]
    drawn = [" ".join(one.words) for one in sentences(pack, count=900, seed=77)]
    return [text for text in drawn if len(text.split()) in range(3, 10)]


def figures(write: Write, said: Sequence[Spoken]) -> tuple[int, int]:
    """Give word errors and sentences heard word for word."""
    heard = [(text, write(sound)) for text, sound in said]
    return sum(word_errors(*pair) for pair in heard), sum(text == got for text, got in heard)


def line(name: str, stages: Sequence[tuple[str, tuple[int, int]]], said: Sequence[Spoken]) -> str:
    """Give the figures of one voice."""
    words = sum(len(text.split()) for text, _ in said)
    told = [
        f"{stage} {wrong} wrong ({wrong / words:.1%}), {right} right"
        for stage, (wrong, right) in stages
    ]
    return f"{name:7} {words} words in {len(said)} sentences: {'; '.join(told)}"


class Enrolling:
    """The voices of the benchmark enrolled with one pack, heard by one kind of engine."""

    def __init__(self, pack: Pack, read: Sequence[str], alone: bool) -> None:
        self.model: AcousticModel = read_acoustic_model(FOLDER)
        self._pack, self._read, self._alone = pack, read, alone
        self._aligner = Aligner(read, pack.pronounce)

    def readings(self, voice: str) -> list[Aligned]:
        """Give what a voice read."""
        aligned = (
            self._aligner.align(self.model, text, recorded(voice, text, at))
            for at, text in enumerate(self._read)
        )
        return [one for one in aligned if one is not None]

    def engine(self, voice: Path | None) -> Engine:
        """Make the engine, taught as at the bench."""
        return open_engine(
            "pocketsphinx",
            # as benchvoice.bench.ears does
            ((one.words, one.weight * 0.5) for one in sentences(self._pack, count=60_000)),
            self._pack.pronounce,
            cache_dir=cache_folder(),
            find_denoiser=open_denoiser,
            find_second=(lambda: None) if self._alone else find_general_model,
            named=sentences_name(self._pack, "enrolment"),
            voice=voice,
        )

    def write(self, voice: Path | None) -> Write:
        """Make what writes down by that engine."""
        engine = self.engine(voice)
        return lambda sound: engine.hear(sound).text


def writer(means: Floats | None, make: Callable[[Path | None], Write]) -> Write:
    """Give what writes recordings down with the given means, or with the model's own."""
    if means is None:
        return make(None)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "voice")
        write_voice(means, path)
        return make(path)


def general_english(voice: Path | None) -> Write:
    """Make PocketSphinx with its own general trigrams and whole dictionary."""
    from pocketsphinx import Decoder

    with tempfile.TemporaryDirectory() as folder:
        features = Path(folder, "features")
        write_features(features)
        decoder: Any = Decoder(
            hmm=str(FOLDER),
            featparams=str(features),
            lm=str(model_folder() / "en-us.lm.bin"),
            dict=str(model_folder() / "cmudict-en-us.dict"),
            loglevel="FATAL",
            **({} if voice is None else voice_setting(voice)),
        )

    def write(sound: Sound) -> str:
        decode(decoder, matched(cepstra(sound), speech_mixture(FOLDER)))
        best = decoder.hyp()
        return "" if best is None else re.sub(r"\(\d+\)", "", best.hypstr)

    return write


def person(folder: Path) -> str:
    """Give the figures of the person who reads a novel, each sentence held back in its turn."""
    lines = (folder / "librivox" / "transcription").read_text(encoding="utf-8").splitlines()
    said = []
    for text, name in (re.fullmatch(r"<s> (.*?) +</s> \((.*)\)", one).groups() for one in lines):
        sound, _ = soundfile.read(folder / "librivox" / f"{name}.wav", dtype="int16")
        said.append((text, sound))
    model, aligner = read_acoustic_model(FOLDER), Aligner([text for text, _ in said], {})
    aligned = [aligner.align(model, *one) for one in said]
    found = []
    for stage, estimate in STAGES.items():
        wrong = right = 0
        for at, one in enumerate(said):
            rest = [other for to, other in enumerate(aligned) if other is not None and to != at]
            means = None if estimate is None else estimate(model, rest)
            more = figures(writer(means, general_english), [one])
            wrong, right = wrong + more[0], right + more[1]
        found.append((stage, (wrong, right)))
    return line("person", found, said)


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--voices", default=",".join(VOICES))
    parser.add_argument("--read", type=int, default=20, help="sentences read for enrolment")
    parser.add_argument("--test", type=int, default=30, help="sentences heard")
    parser.add_argument("--remarks", choices=("dev", "test"), help="else sentences of the grammar")
    parser.add_argument("--noise", choices=NOISES, default="", help="else white noise")
    parser.add_argument("--ratio", type=float, default=QUIET_RATIO, help="speech to noise, dB")
    parser.add_argument("--alone", action="store_true", help="without a second opinion")
    parser.add_argument("--people", type=Path, help="test/data of a PocketSphinx source tree")
    args = parser.parse_args(argv)
    if args.people:
        print(person(args.people))
        return 0
    pack = bench_pack()
    read = sentences_to_read(pack, args.read)
    test = [text for text in to_be_heard(pack, args.remarks, args.test) if text not in read]
    bench = Enrolling(pack, read, args.alone)
    print(bench.engine(None).name)
    for voice in args.voices.split(","):
        readings = bench.readings(voice)
        said = [
            (text, recorded(voice, text, 1000 + at, args.noise, args.ratio))
            for at, text in enumerate(test[: args.test])
        ]
        found = []
        for stage, estimate in STAGES.items():
            means = None if estimate is None else estimate(bench.model, readings)
            found.append((stage, figures(writer(means, bench.write), said)))
        print(line(voice, found, said), flush=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
