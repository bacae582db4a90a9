"""How well remarks are heard and understood in the noises of a shop, from sound to findings.

    python tests/benchmarks/hearing_noise.py [--quick | --turns] [--remarks N] [--natural] [--dev]
        [--without-denoiser] [--alone] [--human FOLDER] [--general]

Each condition is one recording: three seconds of the noise, then the remarks
with pauses of a second and a half, cut, heard and understood as at the bench.
The ratio is that of the remarks' own power to the mean power of the noise.
A remark is exactly right when it came out as one utterance with the true kind,
command and findings.  With --turns the noises share the remarks, 20 and 10 dB
only, for a quarter of the time; each voice meets each noise as often.  The voices are
synthetic, and --natural leaves out the two that sound like machines; FOLDER is `test/data` of a
PocketSphinx source distribution, for people (the test data's transcripts).
With --alone there is no second opinion, else there is where its model is installed.
With --general a speech model that knows nothing of the trade is heard instead
of ours, from the same cuts; its numbers come as digits, which count as word
errors but are understood.
"""

from __future__ import annotations

import argparse
import re
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

import numpy as np
import soundfile
from general_speech import GeneralSpeech, not_here
from hearing_sets import Said, bench_pack, plain, remarks
from noises import NOISES, mixed
from rapidfuzz.distance import Levenshtein
from scoring import Score, finding_score, is_exact
from voices import LEVEL_DBFS, NATURAL, RATE, VOICES, Sound, speak

from benchvoice.audio import Cutter, Utterance
from benchvoice.audio.denoise import Denoiser, open_denoiser
from benchvoice.bench.understand import understand
from benchvoice.follow import guess_step
from benchvoice.grammar import Pack
from benchvoice.grammar.generate import sentences
from benchvoice.hearing import Engine, Heard, open_engine
from benchvoice.hearing.general_model import find_general_model
from benchvoice.language import Parser
from benchvoice.remark import Remark

LEAD, PAUSE = 3.0, 1.5
QUIET_RATIO = 40.0
"""The ratio called clean: white noise at -66 dBFS."""
CACHE = Path(tempfile.gettempdir(), "benchvoice_speech")
Span = tuple[int, int]


@dataclass
class Tally:
    """Counts over some remarks."""

    words: int = 0
    errors: int = 0
    remarks: int = 0
    exact: int = 0
    missed: int = 0
    findings: Score = field(default_factory=Score)

    def add(self, said: Said, heard: Sequence[tuple[str, Remark]]) -> None:
        """Count one remark by the utterances that lie in it."""
        truth = plain(said.truth.say).split()
        words = " ".join(text for text, _ in heard).split()
        self.words += len(truth)
        self.errors += Levenshtein.distance(truth, words)
        self.remarks += 1
        self.missed += not heard
        self.exact += len(heard) == 1 and is_exact(said.truth, heard[0][1])
        scores = [finding_score(said.truth, remark) for _, remark in heard]
        self.findings += scores[0] if scores else finding_score(said.truth, Remark(heard=""))
        for extra in scores[1:]:  # what the other parts of a broken remark gave is one too many
            self.findings += Score(0, extra.right + extra.extra, 0)

    def __add__(self, other: Tally) -> Tally:
        """Put the counts of other remarks to these."""
        mine, others = vars(self), vars(other)
        return Tally(**{name: mine[name] + others[name] for name in mine})

    def line(self) -> str:
        """Give the figures in one line."""
        return (
            f"word errors {self.errors / max(1, self.words):6.1%}"
            f"  exact {self.exact:3d} of {self.remarks:3d} ({self.exact / self.remarks:4.0%})"
            f"  F1 {self.findings.f1:6.1%}  missed {self.missed}"
        )


class Bench:
    """The pack, engine, denoiser and parser of a run."""

    def __init__(self, pack: Pack, denoiser: Denoiser | None, alone: bool = False) -> None:
        # taught as benchvoice.bench.ears does
        said = [(one.words, one.weight * 0.5) for one in sentences(pack, count=60_000)]
        self.pack, self.denoiser = pack, denoiser
        self.engine: Engine = open_engine(
            "pocketsphinx",
            said,
            pack.pronounce,
            cache_dir=CACHE,
            find_denoiser=lambda: denoiser,
            find_second=(lambda: None) if alone else find_general_model,
        )
        self._parser = Parser(pack)
        self._guess = partial(guess_step, outline=pack.outline, current=None)

    def read(self, heard: Heard) -> Remark:
        """Understand what was heard."""
        return understand(heard, self._parser, self._guess, self.pack).remark

    def hear(self, utterance: Utterance) -> tuple[str, Remark, bool]:
        """Give the text, the remark and whether the engine trusts it."""
        heard = self.engine.hear(utterance.samples)
        remark = self.read(heard)
        return remark.heard, remark, heard.trusted


def recording(said: Sequence[Said], noise: str, ratio: float) -> tuple[Sound, list[Span]]:
    """Lay the remarks on a noise; give the recording and where each remark is."""
    parts, spans = [np.zeros(round(LEAD * RATE), dtype=np.int16)], []
    for one in said:
        sound = speak(one.voice, one.truth.say, one.pace)
        start = sum(part.size for part in parts)
        spans.append((start, start + sound.size))
        parts += [sound, np.zeros(round(PAUSE * RATE), dtype=np.int16)]
    whole = np.concatenate(parts)
    rng = np.random.default_rng([len(said), round(ratio), *noise.encode()])
    wave = NOISES[noise](whole.size, rng) if noise in NOISES else rng.normal(size=whole.size)
    return mixed(whole, wave, ratio, LEVEL_DBFS), spans


def cut_stream(sound: Sound, denoiser: Denoiser | None) -> Iterator[Utterance]:
    """Cut a recording in blocks of a tenth of a second, as from a microphone."""
    cutter = Cutter(denoiser=denoiser)
    for at in range(0, sound.size, 1600):
        yield from cutter.push(sound[at : at + 1600])
    yield from cutter.flush()


def owner(cut: Utterance, spans: Sequence[Span]) -> int | None:
    """Give the remark that an utterance has most of, None for less than a tenth of a second."""
    parts = [min(end, cut.end * RATE) - max(start, cut.start * RATE) for start, end in spans]
    best = max(range(len(parts)), key=parts.__getitem__)
    return best if parts[best] > 0.1 * RATE else None


def run(
    bench: Bench, said: Sequence[Said], noise: str, ratio: float, by_voice: dict[str, Tally]
) -> Tally:
    """Print the line of one condition and give its counts."""
    sound, spans = recording(said, noise, ratio)
    began = time.process_time()
    found = list(cut_stream(sound, bench.denoiser))
    heard = [bench.hear(one) for one in found]
    spent = time.process_time() - began
    total, used = Tally(), set()
    owners = [owner(cut, spans) for cut in found]
    for number, one in enumerate(said):
        inside = [at for at, own in enumerate(owners) if own == number]
        used.update(inside)
        parts = [heard[at][:2] for at in inside]
        total.add(one, parts)
        by_voice.setdefault(one.voice, Tally()).add(one, parts)
    strays = [heard[at] for at in range(len(found)) if at not in used]
    false = sum(remark.kind != "unclear" for _, remark, _ in strays)
    refused = sum(not heard[at][2] for at in used)
    speech = sum(cut.samples.size for cut in found) / RATE
    print(
        f"{noise:11}{ratio:4.0f} dB  {total.line()}  refused {refused}  stray {len(strays)}"
        f" (entries {false})  {spent / speech:.2f} of speech, {spent * RATE / sound.size:.2f}"
        " of all time",
        flush=True,
    )
    return total


def by_turns(said: Sequence[Said], voices: int) -> list[list[Said]]:
    """Share remarks, whose voices go round, out over the noises: each voice meets each of them."""
    parts: list[list[Said]] = [[] for _ in NOISES]
    for at, one in enumerate(said):
        parts[(at + at // voices) % len(NOISES)].append(one)
    return parts


def people(bench: Bench, folder: Path) -> None:
    """Print how a person reading a story is heard: nothing of it should become an entry."""
    lines = (folder / "librivox" / "transcription").read_text(encoding="utf-8").splitlines()
    entries = cuts = 0
    for line in lines:
        name = re.sub(r".*\((.*)\)\s*", r"\1", line)
        sound, _ = soundfile.read(folder / "librivox" / f"{name}.wav", dtype="int16")
        for one in cut_stream(np.pad(sound, (RATE, RATE)), bench.denoiser):
            text, remark, trusted = bench.hear(one)
            cuts += 1
            entries += remark.kind != "unclear"
            if remark.kind != "unclear":
                print(f"  taken for a remark: {text!r} ({trusted=}, {remark.confidence})")
    print(f"people reading a story: {cuts} utterances, {entries} entries")


def main(argv: Sequence[str] | None = None) -> int:
    """Print the tables; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--quick", action="store_true", help="a part, in under two minutes")
    parser.add_argument("--turns", action="store_true", help="the noises share the remarks")
    parser.add_argument("--remarks", type=int, help="how many (60, or 9 with --quick)")
    parser.add_argument("--natural", action="store_true", help="the four natural voices only")
    parser.add_argument("--dev", action="store_true", help="the set for choosing settings")
    parser.add_argument("--without-denoiser", action="store_true")
    parser.add_argument("--alone", action="store_true", help="without a second opinion")
    parser.add_argument("--human", type=Path, help="test/data of a PocketSphinx source tree")
    parser.add_argument("--general", action="store_true", help="Whisper tiny in place of ours")
    args = parser.parse_args(argv)
    if args.general and (why := not_here()):
        print(f"skipped: Whisper tiny is {why}")
        return 0
    denoiser = None if args.without_denoiser else open_denoiser()
    pack = bench_pack()
    bench = Bench(pack, denoiser, args.alone)
    if args.general:
        bench.engine = GeneralSpeech()
    count = args.remarks or (9 if args.quick else 60)
    voices = NATURAL if args.natural else VOICES
    said = remarks("dev" if args.dev else "test", count, voices)
    print(f"{len(said)} remarks, {bench.engine.name}, denoiser: {denoiser and denoiser.name}")
    ratios = (10.0,) if args.quick else (20.0, 10.0) if args.turns else (20.0, 10.0, 5.0)
    run(bench, said, "clean", QUIET_RATIO, clean_voices := {})
    tables = [("clean", clean_voices)]
    for ratio in ratios:
        by_voice: dict[str, Tally] = {}
        parts = by_turns(said, len(voices)) if args.turns else [said] * len(NOISES)
        every = [
            run(bench, part, noise, ratio, by_voice)
            for noise, part in zip(NOISES, parts, strict=True)
        ]
        print(f"all noises {ratio:3.0f} dB   {sum(every, Tally()).line()}")
        tables.append((f"{ratio:.0f} dB", by_voice))
    print("\nby voice")
    for name, by_voice in tables:
        for voice in VOICES:
            if voice in by_voice:
                print(f"  {name:6} {voice:7} {by_voice[voice].line()}")
    if args.human:
        people(bench, args.human)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
