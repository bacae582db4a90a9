"""Talk that is not for the bench: what becomes an entry, against remarks that are refused for it.

    python tests/benchmarks/hearing_rejection.py [--dev] [--count N] [--human FOLDER] [--plot PNG]

Chatter is ordinary English in synthetic voices (everyday talk and a story in
the public domain) and a radio across the shop; FOLDER is `test/data` of a
PocketSphinx source distribution, for a person reading a story.  A false entry
is an utterance of it that becomes a remark or a command; hours are those of
the talk itself.  Remarks are missed when they are refused; "for nothing" are
those among them that would have been exactly right.
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import soundfile
from hearing_noise import Bench, cut_stream, recording
from hearing_sets import bench_pack, chatter, remarks
from noises import NOISES, babble, mixed
from scoring import is_exact
from voices import LEVEL_DBFS, RATE, VOICES, Sound, speak

from benchvoice.audio import open_denoiser
from benchvoice.bench.understand import foreign
from benchvoice.hearing import Heard
from benchvoice.remark import Remark

THRESHOLDS = (-3.0, -2.0, -1.5, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0, 4.0)
IN_USE = 0.0


@dataclass(frozen=True)
class Judged:
    """One utterance: seconds, log odds of not being ours, whether an entry without them, right."""

    seconds: float
    odds: float
    entry: bool
    exact: bool = False
    text: str = ""


def unrefused(bench: Bench, heard: Heard) -> tuple[Remark, float]:
    """Give what would be made of it, were nothing refused, and the log odds that it is not ours."""
    remark = bench.read(replace(heard, trusted=True, garbage=None))
    return remark, foreign(heard, remark, True) if heard.trusted else math.inf


def judge(bench: Bench, sounds: Iterator[Sound]) -> Iterator[Judged]:
    """Cut and hear sounds of which nothing is for the bench."""
    for sound in sounds:
        for one in cut_stream(np.pad(sound, (RATE, RATE)), bench.denoiser):
            heard = bench.engine.hear(one.samples)
            remark, odds = unrefused(bench, heard)
            entry = remark.kind != "unclear"
            yield Judged(one.samples.size / RATE, odds, entry, text=remark.heard)


def judge_remarks(bench: Bench, which: str, count: int, ratio: float) -> Iterator[Judged]:
    """Hear remarks, clean at 40 dB, else in the noises by turns."""
    said = remarks(bench.pack, which, count)
    for at, one in enumerate(said):
        noise = "clean" if ratio >= 40 else list(NOISES)[at % len(NOISES)]
        sound, _ = recording([one], noise, ratio)
        for cut in list(cut_stream(sound, bench.denoiser))[:1]:
            heard = bench.engine.hear(cut.samples)
            remark, odds = unrefused(bench, heard)
            exact = is_exact(one.truth, remark)
            yield Judged(cut.samples.size / RATE, odds, remark.kind != "unclear", exact, heard.text)


def talk(which: str, count: int) -> Iterator[Sound]:
    """Give chatter, the voices by turns."""
    texts = chatter(which)
    texts = texts[:: max(1, len(texts) // count)][:count]
    for at, text in enumerate(texts):
        sound = speak(VOICES[at % len(VOICES)], text)
        noise = np.random.default_rng(at).normal(size=sound.size)
        yield mixed(sound, noise, 40.0, LEVEL_DBFS)


def radio(which: str) -> Iterator[Sound]:
    """Give a minute of radio, as loud as somebody at the bench and as quiet as across the shop."""
    for level in (LEVEL_DBFS, LEVEL_DBFS - 15):
        wave = babble(30 * RATE, np.random.default_rng(len(which)))
        yield mixed(np.zeros(wave.size, dtype=np.int16), wave, 0.0, level)


def reading(folder: Path) -> Iterator[Sound]:
    """Give a person's reading of a story."""
    for path in sorted((folder / "librivox").glob("*.wav")):
        yield soundfile.read(path, dtype="int16")[0]


def curve(
    talks: dict[str, list[Judged]], said: dict[str, list[Judged]]
) -> list[tuple[float, dict[str, float], dict[str, float], dict[str, float]]]:
    """Give for each threshold: false entries per hour, shares missed, shares missed for nothing."""
    rows = []
    for limit in THRESHOLDS:
        false = {
            name: sum(one.entry and one.odds < limit for one in heard)
            / (sum(one.seconds for one in heard) / 3600)
            for name, heard in talks.items()
        }
        missed = {
            name: sum(one.odds >= limit for one in heard) / len(heard)
            for name, heard in said.items()
        }
        wrongly = {
            name: sum(one.exact and one.odds >= limit for one in heard) / len(heard)
            for name, heard in said.items()
        }
        rows.append((limit, false, missed, wrongly))
    return rows


def plot(
    rows: list[tuple[float, dict[str, float], dict[str, float], dict[str, float]]], path: Path
) -> None:
    """Draw the curves into a PNG, where matplotlib is installed."""
    try:
        import matplotlib.pyplot as plt
    except ImportError:
        print("no plot: matplotlib is not installed")
        return
    figure, axes = plt.subplots(figsize=(7, 5))
    for talks in rows[0][1]:
        for said in rows[0][2]:
            points = [(100 * row[2][said], row[1][talks]) for row in rows]
            axes.plot(*zip(*points, strict=True), marker=".", label=f"{talks} / {said}")
    axes.set(xlabel="missed remarks, %", ylabel="false entries per hour of talk")
    axes.set_yscale("symlog", linthresh=1.0)
    axes.legend()
    axes.grid(alpha=0.3)
    figure.savefig(path, dpi=120, bbox_inches="tight")
    print(f"plotted in {path}")


def main(argv: Sequence[str] | None = None) -> int:
    """Print the curve; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--dev", action="store_true", help="the set for choosing settings")
    parser.add_argument("--count", type=int, default=60, help="remarks; twice as much chatter")
    parser.add_argument("--human", type=Path, help="test/data of a PocketSphinx source tree")
    parser.add_argument("--plot", type=Path)
    args = parser.parse_args(argv)
    which = "dev" if args.dev else "test"
    bench = Bench(bench_pack(), open_denoiser())
    talks = {
        "chatter": list(judge(bench, talk(which, 2 * args.count))),
        "radio": list(judge(bench, radio(which))),
    }
    if args.human:
        talks["people"] = list(judge(bench, reading(args.human)))
    said = {
        name: list(judge_remarks(bench, which, args.count, ratio))
        for name, ratio in (("clean", 40.0), ("20 dB", 20.0))
    }
    for name, heard in talks.items():
        print(f"{name}: {len(heard)} utterances, {sum(one.seconds for one in heard):.0f} s")
    rows = curve(talks, said)
    for limit, false, missed, wrongly in rows:
        mark = " <- in use" if limit == IN_USE else ""
        print(
            f"odds < {limit:4.1f}  false an hour "
            + "  ".join(f"{name} {value:6.1f}" for name, value in false.items())
            + "  missed "
            + "  ".join(
                f"{name} {missed[name]:5.1%} ({wrongly[name]:.1%} for nothing)" for name in said
            )
            + mark
        )
    for name, heard in talks.items():
        for one in heard:
            if one.entry and one.odds < IN_USE:
                print(f"  {name}: {one.text!r} odds {one.odds:.2f}")
    if args.plot:
        plot(rows, args.plot)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
