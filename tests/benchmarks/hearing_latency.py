"""How long an entry takes after the end of speech at the live bench, and how much time it costs.

    python tests/benchmarks/hearing_latency.py [--count N] [--alone]

Recordings (clean, and in the noises at 10 dB) are played in real time into the live bench as from
a microphone, with a session on disk, all on one core.  The latency of a remark is from its last
sound to the entry being shown, less the endpoint's own wait: work done while that wait goes on
does not count, and below zero the entry was there with the endpoint.  The cost is processor time
of everything, cutting and the listening that was for nothing included.  The marks are 0.5 s in the
median and 0.2 of real time.
"""

from __future__ import annotations

import argparse
import math
import os
import statistics
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import soundfile
from hearing_noise import Bench, Span, recording
from hearing_sets import OUTLINE, bench_pack, remarks
from noises import NOISES
from voices import RATE

from benchvoice.audio import CutSettings, FileMicrophone, open_denoiser
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears
from benchvoice.bench.live import LiveBench, Told
from benchvoice.session import Header, real_clock

ENDPOINT = CutSettings().endpoint
_LATE = 2.0
"""Seconds after a remark in which its utterance may end."""


@dataclass
class Shown:
    """The entries with the times at which they were shown, by the clock of the microphone."""

    ticks: list[float] = field(default_factory=list)
    entries: list[tuple[float, float]] = field(default_factory=list)
    """Where the utterance ended and when its entry was there, seconds of the recording."""

    def clock(self) -> float:
        """Give the time; the microphone asks first when it begins."""
        self.ticks.append(time.monotonic())
        return self.ticks[-1]

    def show(self, what: Recorded | Told) -> None:
        """Take what the bench shows."""
        if isinstance(what, Recorded) and what.end is not None:
            self.entries.append((what.end, time.monotonic() - self.ticks[0]))

    def waits(self, spans: Sequence[Span]) -> list[float]:
        """Give the latency of each remark that came to an entry."""
        ends = [end / RATE for _, end in spans]
        found = {
            said: shown - said - ENDPOINT
            for said in ends
            for heard, shown in self.entries
            if said - 0.5 < heard < said + _LATE
        }
        return list(found.values())


def measure(bench: Bench, noise: str, ratio: float, count: int, folder: Path) -> None:
    """Print the figures of one recording."""
    sound, spans = recording(remarks("test", count), noise, ratio)
    path = folder / f"{noise}.flac"
    soundfile.write(path, sound, RATE, subtype="PCM_16")
    shown = Shown()
    ears = Ears(bench.pack, bench.engine, bench.denoiser)
    with Desk.open(ears, folder / noise, Header(outline=OUTLINE), real_clock()) as desk:
        live = LiveBench(
            desk,
            shown.show,
            lambda: FileMicrophone(path, realtime=True, clock=shown.clock),
            denoiser=bench.denoiser,
        )
        began = time.process_time()
        live.start()
        live.wait_for_microphone()
        live.stop()
        spent = time.process_time() - began
    waits = sorted(shown.waits(spans)) or [math.nan]
    speech = sum(end - start for start, end in spans) / RATE
    print(
        f"{noise:11}{ratio:4.0f} dB  {len(shown.entries)} entries of"
        f" {len(spans)} remarks  latency median"
        f" {statistics.median(waits):.2f} s, 90 % under {waits[len(waits) * 9 // 10]:.2f} s,"
        f" worst {waits[-1]:.2f} s  {spent / speech:.2f} of speech"
        f"  {spent * RATE / sound.size:.2f} of real time",
        flush=True,
    )


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--count", type=int, default=18, help="remarks in each recording")
    parser.add_argument("--alone", action="store_true", help="without a second opinion")
    args = parser.parse_args(argv)
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    bench = Bench(bench_pack(), open_denoiser(), args.alone)
    print(f"{bench.engine.name}; the endpoint waits {ENDPOINT} s")
    with tempfile.TemporaryDirectory() as folder:
        for noise, ratio in ({"clean": 40.0} | dict.fromkeys(NOISES, 10.0)).items():
            measure(bench, noise, ratio, args.count, Path(folder))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
