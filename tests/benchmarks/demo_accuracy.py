"""How much of the recorded teardown comes out exactly right.

    python tests/benchmarks/demo_accuracy.py [--engine vosk --model PATH] [--misses]

A remark is exactly right when its kind, command, number and all its findings
equal the script's truth (demo_sessions/gearbox_teardown.truth.jsonl, made
with the recording by demo_sessions/make_recording.py).
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from benchvoice.audio import SAMPLE_RATE, Utterance, cut, read_blocks
from benchvoice.bench.ears import Ears, Heard, open_ears
from benchvoice.follow import State, advance, guess_in
from benchvoice.grammar import load_outline
from benchvoice.remark import DOUBTFUL, remark_to_json

DEMO = Path(__file__).parents[2] / "demo_sessions"
FINDING_FIELDS = (
    *("part", "count", "size", "place", "condition", "action", "disposition", "container"),
    "measure",
)
DERIVED = frozenset({"si", "text"})


def load_truth() -> list[dict[str, Any]]:
    """Read the truth, one remark a line, with start and end in seconds."""
    lines = (DEMO / "gearbox_teardown.truth.jsonl").read_text(encoding="utf-8").splitlines()
    return [json.loads(line) for line in lines]


def facts(remark: Mapping[str, Any]) -> tuple[Any, ...]:
    """Give what is compared of a remark or a truth."""
    findings = [
        json.dumps(_plain({name: finding.get(name) for name in FINDING_FIELDS}), sort_keys=True)
        for finding in remark["findings"]
    ]
    return remark["kind"], remark["command"], remark.get("number"), sorted(findings)


def _plain(value: Any) -> Any:
    """Leave out what is empty or follows from the rest, and write 12.0 as 12."""
    if isinstance(value, Mapping):
        inside = {key: _plain(item) for key, item in value.items() if key not in DERIVED}
        return {key: item for key, item in inside.items() if item is not None}
    return float(value) if isinstance(value, int) else value


def at_truth(truth: Sequence[dict[str, Any]], utterance: Utterance) -> dict[str, Any] | None:
    """Find the remark of the script that an utterance is."""
    for one in truth:
        if one["start"] < utterance.end and one["end"] > utterance.start:
            return one
    return None


def score(ears: Ears) -> list[tuple[dict[str, Any], Heard | None]]:
    """Hear the recording as a replay does, which knows where the job stands.

    Gives each remark of the script with what was heard of it, if anything.
    """
    truth = load_truth()
    found: dict[float, Heard] = {}
    recording = read_blocks(DEMO / "gearbox_teardown.flac")
    state = State()
    for utterance in cut(recording, None, ears.denoiser):
        heard = ears.hear(utterance, partial(guess_in, state, ears.pack))
        state, _ = advance(state, heard.remark, ears.pack, utterance.start, heard.alternatives)
        one = at_truth(truth, utterance)
        if one is not None:
            found[one["start"]] = heard
    return [(one, found.get(one["start"])) for one in truth]


def is_right(truth: Mapping[str, Any], heard: Heard | None) -> bool:
    """Whether a remark came out exactly right."""
    return heard is not None and facts(remark_to_json(heard.remark)) == facts(truth)


def is_sure(heard: Heard) -> bool:
    """Whether a remark is shown as something said, without a mark of doubt."""
    return heard.remark.kind != "unclear" and (heard.remark.confidence or 0) >= DOUBTFUL


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument(
        "--engine", choices=("auto", "vosk", "pocketsphinx"), default="pocketsphinx"
    )
    parser.add_argument("--model", type=Path)
    parser.add_argument("--misses", action="store_true")
    args = parser.parse_args(argv)
    began = time.process_time()
    ears = open_ears(load_outline("reversing_gearbox"), args.engine, args.model)
    built = time.process_time() - began
    began = time.process_time()
    pairs = score(ears)
    spent = time.process_time() - began
    right = [is_right(truth, heard) for truth, heard in pairs]
    words = [heard is not None and heard.remark.heard == truth["said"] for truth, heard in pairs]
    sure = [heard is not None and is_sure(heard) for _, heard in pairs]
    wrong_sure = sum(s and not r for s, r in zip(sure, right, strict=True))
    seconds = sum(h.utterance.samples.size / SAMPLE_RATE for _, h in pairs if h is not None)
    print(f"engine: {ears.engine.name if ears.engine else 'none'}, made in {built:.2f} s CPU")
    share = 100 * sum(right) / len(right)
    print(f"remarks exactly right: {sum(right)} of {len(right)} ({share:.1f}%)")
    print(f"word for word: {sum(words)} of {len(words)}")
    print(
        f"wrong and not marked doubtful: {wrong_sure}; right but marked doubtful: "
        f"{sum(r and not s for s, r in zip(sure, right, strict=True))}"
    )
    print(f"CPU per second of speech: {spent / seconds:.3f} (cutting the whole recording included)")
    if args.misses:
        for (truth, heard), good in zip(pairs, right, strict=True):
            if not good:
                print(f"  {truth['said']!r} -> {heard.remark.heard if heard else None!r}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
