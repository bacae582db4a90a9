"""An hour of recording read and cut into utterances: memory must not grow.

    python tests/benchmarks/long_recording.py [--minutes 60] [--rate 48000] [--channels 2]

The recording is synthetic: bursts of noise in a quiet hum, written as it goes.
"""

from __future__ import annotations

import argparse
import resource
import tempfile
import time
from pathlib import Path

import numpy as np
import soundfile

from benchvoice.audio import SAMPLE_RATE, Cutter, read_blocks


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--minutes", type=int, default=60)
    parser.add_argument("--rate", type=int, default=48_000)
    parser.add_argument("--channels", type=int, default=2)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "hour.flac"
        write(path, args.minutes, args.rate, args.channels)
        print(f"{path.stat().st_size / 1e6:.0f} MB of FLAC")
        read(path)


def write(path: Path, minutes: int, rate: int, channels: int) -> None:
    rng = np.random.default_rng(1)
    loud = np.repeat(np.abs(np.sin(np.arange(60) / 5)) > 0.8, rate)[:, None]
    with soundfile.SoundFile(path, "w", rate, channels, subtype="PCM_16") as file:
        for _ in range(minutes):
            noise = rng.standard_normal((60 * rate, 1), dtype=np.float32)
            file.write(np.repeat(noise * np.where(loud, 0.2, 0.002), channels, axis=1))


def read(path: Path) -> None:
    cutter, seconds, utterances, told = Cutter(), 0.0, 0, 0
    begun = time.perf_counter()
    print("minutes  utterances  memory MB")
    for block in read_blocks(path):
        seconds += block.size / SAMPLE_RATE
        utterances += len(cutter.push(block))
        if seconds // 600 > told:
            told = int(seconds // 600)
            memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            print(f"{seconds / 60:7.0f}  {utterances:10}  {memory:9.1f}")
    spent = time.perf_counter() - begun
    print(f"{seconds / spent:.0f} times as fast as it was spoken")


if __name__ == "__main__":
    main()
