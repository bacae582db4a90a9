"""Fuzzing led by coverage, with atheris: anything but an answer or one clear line ends it.

    python tests/benchmarks/fuzz.py outline|vocabulary|journal|remark|audio [--runs 5000]

Begins from the files that come along; prints libFuzzer's figures (inputs a second, edges covered).
atheris is no dependency of benchvoice: `pip install atheris` where there is a wheel of it.
"""

from __future__ import annotations

import argparse
import io
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import atheris
import numpy as np
import soundfile

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "robust")]

with atheris.instrument_imports(include=["benchvoice"]):
    import robust_help

    from benchvoice.bench.ears import Ears
    from benchvoice.follow import State
    from benchvoice.grammar import load_outline, load_pack

SCRATCH = Path(tempfile.mkdtemp(prefix="benchvoice-fuzz-"))
SEEDS = {
    "outline": sorted((ROOT / "grammars" / "outlines").glob("*.toml")),
    "vocabulary": sorted((ROOT / "grammars" / "trade").glob("*.toml")),
    "journal": sorted((ROOT / "demo_sessions" / "history").glob("*/session.jsonl")),
}


def target(what: str) -> Callable[[bytes], None]:
    if what == "remark":
        ears = Ears(load_pack(load_outline("worm_reducer")), None)
        return lambda data: _remark(data, ears)
    reader: Callable[[bytes, Path], str | None] = getattr(robust_help, what)

    def run(data: bytes) -> None:
        reader(data, SCRATCH)

    return run


def _remark(data: bytes, ears: Ears) -> None:
    robust_help.remark(data.decode("utf-8", "replace"), ears, State())


def seeds(what: str) -> Path:
    """Write the first inputs to a folder."""
    folder = SCRATCH / "seeds"
    folder.mkdir()
    for number, path in enumerate(SEEDS.get(what, ())):
        (folder / str(number)).write_bytes(path.read_bytes()[: 4000 if what == "journal" else None])
    if what == "remark":
        for number, text in enumerate(robust_help.REMARKS):
            (folder / str(number)).write_text(text)
    if what == "audio":
        noise = np.random.default_rng(1).normal(0, 0.2, (2000, 2))
        for kind in ("WAV", "FLAC", "OGG"):
            file = io.BytesIO()
            soundfile.write(file, noise, 16000, format=kind)
            (folder / kind).write_bytes(file.getvalue())
    return folder


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("what", choices=["outline", "vocabulary", "journal", "remark", "audio"])
    parser.add_argument("--runs", type=int, default=5000)
    args = parser.parse_args()
    flags = [f"-runs={args.runs}", "-max_len=20000", "-print_final_stats=1", "-timeout=60"]
    atheris.Setup([sys.argv[0], *flags, str(seeds(args.what))], target(args.what))
    atheris.Fuzz()


if __name__ == "__main__":
    main()
