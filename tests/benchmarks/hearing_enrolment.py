"""What enrolment gains: word errors of a voice on sentences that it did not read for it.

    python tests/benchmarks/hearing_enrolment.py [--voices espeak,slt,joe] [--read N] [--test N]

Each voice reads the sentences that `benchvoice enrol` would show, and then
other sentences of the grammar, all over white noise at -66 dBFS; the engine
hears those as at the bench, without and with the transform.  The prior of the
transform was set by hand.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from hearing_sets import bench_pack
from voices import Sound, speak

from benchvoice.bench.ears import build_engine
from benchvoice.bench.enrolment import fit, sentences_to_read, word_errors
from benchvoice.grammar import Pack
from benchvoice.grammar.generate import sentences
from benchvoice.hearing import Engine
from benchvoice.hearing.acoustic import read_acoustic_model
from benchvoice.hearing.aligning import Aligner
from benchvoice.hearing.mllr import write_mllr
from benchvoice.hearing.pronounce import model_folder

BEFORE, AFTER = 4800, 2400
NOISE_RMS = 16.0


def recorded(voice: str, text: str, seed: int) -> Sound:
    """Give a voice saying a text, with the room around it."""
    sound = np.pad(speak(voice, text), (BEFORE, AFTER))
    noise = np.random.default_rng(seed).normal(0, NOISE_RMS, sound.size)
    return np.clip(sound + noise, -32768, 32767).astype(np.int16)


def figures(engine: Engine, said: Sequence[tuple[str, Sound]]) -> tuple[int, int]:
    """Give word errors and sentences heard word for word."""
    heard = [(text, engine.hear(sound).text) for text, sound in said]
    return sum(word_errors(*pair) for pair in heard), sum(text == got for text, got in heard)


def measure(
    pack: Pack, plain: Engine, voice: str, read: Sequence[str], test: Sequence[str]
) -> None:
    """Print the line of one voice."""
    model = read_acoustic_model(model_folder() / "en-us")
    aligner = Aligner(read, pack.pronounce)
    aligned = [
        aligner.align(model, text, recorded(voice, text, at)) for at, text in enumerate(read)
    ]
    said = [(text, recorded(voice, text, 1000 + at)) for at, text in enumerate(test)]
    before = figures(plain, said)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "transform")
        write_mllr(fit(model, [one for one in aligned if one is not None]), path)
        after = figures(build_engine(pack, "pocketsphinx", voice=path), said)
    words = sum(len(text.split()) for text in test)
    print(
        f"{voice:7} {words} words: wrong {before[0]} ({before[0] / words:.1%}) before,"
        f" {after[0]} ({after[0] / words:.1%}) after; word for word {before[1]} before,"
        f" {after[1]} after, of {len(test)}",
        flush=True,
    )


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--voices", default="espeak,slt,joe")
    parser.add_argument("--read", type=int, default=20, help="sentences read for enrolment")
    parser.add_argument("--test", type=int, default=20, help="sentences heard")
    args = parser.parse_args(argv)
    pack = bench_pack()
    read = sentences_to_read(pack, args.read)
    drawn = [" ".join(one.words) for one in sentences(pack, count=900, seed=77)]
    test = [text for text in drawn if len(text.split()) in range(3, 10) and text not in read]
    plain = build_engine(pack, "pocketsphinx")
    for voice in args.voices.split(","):
        measure(pack, plain, voice, read, test[: args.test])
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
