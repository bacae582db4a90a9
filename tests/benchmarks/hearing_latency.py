"""How long an entry takes after the end of speech, and how much of real time hearing takes.

    python tests/benchmarks/hearing_latency.py [--count N]

Recordings (clean, and in the noises at 10 dB) are cut in blocks of a tenth of
a second, as from a microphone.  Latency is the work done between the block in
which an utterance ended and its entry: denoising, hearing, judging and
understanding.  The endpoint's own wait comes before it, and is printed apart.
All on one core; the marks are 0.5 s in the median and 0.2 of real time.
"""

from __future__ import annotations

import argparse
import os
import statistics
import time
from collections.abc import Sequence

from hearing_noise import Bench, recording
from hearing_sets import bench_pack, remarks
from noises import NOISES
from voices import RATE

from benchvoice.audio import CutSettings, Cutter, open_denoiser


def measure(bench: Bench, noise: str, ratio: float, count: int) -> None:
    """Print the figures of one recording."""
    sound, spans = recording(remarks("test", count), noise, ratio)
    cutter = Cutter(denoiser=bench.denoiser)
    waits: list[float] = []
    ends: list[float] = []
    speech, began = 0.0, time.perf_counter()
    for at in range(0, sound.size, 1600):
        for one in cutter.push(sound[at : at + 1600]):
            heard_at = time.perf_counter()
            bench.hear(one)
            waits.append(time.perf_counter() - heard_at)
            speech += one.samples.size / RATE
            said = [
                end for start, end in spans if start / RATE < one.end and end > one.start * RATE
            ]
            ends += [(at + 1600) / RATE - end / RATE for end in said[-1:]]
    spent = time.perf_counter() - began
    print(
        f"{noise:11}{ratio:4.0f} dB  {len(waits)} utterances  latency median"
        f" {statistics.median(waits):.2f} s,"
        f" 90 % under {sorted(waits)[len(waits) * 9 // 10]:.2f} s,"
        f" worst {max(waits):.2f} s  endpoint {statistics.median(ends):.2f} s after the speech"
        f"  {spent / speech:.2f} of speech  {spent * RATE / sound.size:.2f} of real time",
        flush=True,
    )


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--count", type=int, default=18, help="remarks in each recording")
    args = parser.parse_args(argv)
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    bench = Bench(bench_pack(), open_denoiser())
    print(f"{bench.engine.name}; the endpoint waits {CutSettings().endpoint} s")
    measure(bench, "clean", 40.0, args.count)
    for noise in NOISES:
        measure(bench, noise, 10.0, args.count)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
