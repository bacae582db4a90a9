"""How well and how fast PocketSphinx hears, on the committed recordings, clean and in noise.

    python tests/benchmarks/hearing_accuracy.py

The grammar has some 30,000 different invented remarks.  Noise is Gaussian
through a one-pole low pass (a fan, roughly), at the given ratio to the whole
recording's power.  The people of tests/recordings/human are heard with the
grammar of tests/hearing/test_pocketsphinx_engine.py.
"""

from __future__ import annotations

import itertools
import json
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import scipy.signal
import soundfile
from rapidfuzz.distance import Levenshtein

from benchvoice.hearing import Engine, build_pocketsphinx, estimate_trigrams

RECORDINGS = Path(__file__).parents[1] / "recordings"
sys.path.insert(0, str(Path(__file__).parents[1] / "hearing"))

COUNTS = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen twenty thirty forty"
).split()
PARTS = (
    "bolt,nut,stud,seal,washer,gasket,gear,bearing,bushing,shaft,spring,shim,plug,piston seal,"
    "lip seal,thrust washer,lock washer,snap ring,dowel pin,steel plate,clutch plate,idler gear"
).split(",")
ENDS = (
    "off the front,off the rear,off the pump cover,from the bell housing,in tray two,in bag nine,"
    "in box four,cracked,worn,scored,pitted,bent,chipped,good,missing,replace,reuse,discard,"
    "send out,cracked replace,worn reuse,out,cleaned,measured,and a gasket replace,and two nuts"
).split(",")
Sentence = tuple[tuple[str, ...], float]


def remarks() -> Iterator[Sentence]:
    for count, part, end in itertools.product(COUNTS, PARTS, ENDS):
        many = part if count == "one" else f"{part}s"
        for lead in ("", "okay ", "we have "):
            yield tuple(f"{lead}{count} {many} {end}".split()), 1.0 if not lead else 0.2
    for part, verb, end in itertools.product(PARTS, ("is", "looks"), ENDS[7:13]):
        yield tuple(f"the {part} {verb} {end}".split()), 5.0
    for what, count in itertools.product(("end play", "backlash", "runout"), COUNTS):
        yield tuple(f"{what} {count} thou".split()), 20.0
    for command in ("next step", "go back", "pause", "read that back", "yes", "no"):
        yield tuple(command.split()), 100.0


def in_noise(sound: np.ndarray, ratio_db: float | None, seed: int) -> np.ndarray:
    if ratio_db is None:
        return sound
    noise = np.random.default_rng(seed).normal(size=sound.size)
    noise = scipy.signal.lfilter([1.0], [1.0, -0.9], noise)
    power = np.mean(sound.astype(float) ** 2) / np.mean(noise**2)
    mixed = sound + noise * np.sqrt(power) * 10 ** (-ratio_db / 20)
    return np.clip(mixed, -32768, 32767).astype(np.int16)


def report(label: str, engine: Engine, pairs: list[tuple[str, np.ndarray]]) -> None:
    errors = words = right = among = 0
    began = time.process_time()
    for said, samples in pairs:
        heard = engine.hear(samples)
        errors += Levenshtein.distance(said.split(), heard.text.split())
        words += len(said.split())
        right += heard.text == said
        among += said in [guess.text for guess in heard.hypotheses]
    spent = time.process_time() - began
    seconds = sum(samples.size for _, samples in pairs) / 16000
    print(
        f"{label:22} word errors {errors / words:6.1%}  right {right}/{len(pairs)}"
        f"  among the guesses {among}/{len(pairs)}  {spent / seconds:.3f} of real time"
    )


def bench_pairs() -> list[tuple[str, np.ndarray]]:
    script = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))
    pairs = []
    for name in ("bench_piper", "bench_flite"):
        whole, rate = soundfile.read(RECORDINGS / f"{name}.flac", dtype="int16")
        for said in script[name]:
            start, end = round((said["start"] - 0.3) * rate), round((said["end"] + 0.15) * rate)
            pairs.append((said["text"], whole[start:end]))
    return pairs


def human_pairs() -> list[tuple[str, np.ndarray]]:
    folder = RECORDINGS / "human"
    texts = json.loads((folder / "transcripts.json").read_text(encoding="utf-8"))
    return [
        (text, soundfile.read(folder / f"{name}.flac", dtype="int16")[0])
        for name, text in texts.items()
    ]


def main() -> None:
    from test_pocketsphinx_engine import spoken_numbers

    sentences = list(remarks())
    began = time.process_time()
    estimate_trigrams(sentences)
    print(f"{len(sentences)} sentences: model estimated in {time.process_time() - began:.2f} s")
    with tempfile.TemporaryDirectory() as folder:
        for label in ("built", "built from the cache"):
            began = time.process_time()
            engine = build_pocketsphinx(sentences, {"thou": ("TH AW",)}, Path(folder))
            print(f"engine {label} in {time.process_time() - began:.2f} s")
    for ratio in (None, 20.0, 15.0, 10.0, 5.0):
        pairs = [
            (text, in_noise(samples, ratio, seed))
            for seed, (text, samples) in enumerate(bench_pairs())
        ]
        report("synthetic, clean" if ratio is None else f"synthetic, {ratio:g} dB", engine, pairs)
    report("people, numbers", build_pocketsphinx(spoken_numbers(), {}, None), human_pairs())


if __name__ == "__main__":
    main()
