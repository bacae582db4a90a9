from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from benchvoice.audio import SAMPLE_RATE, CutSettings, Cutter, Samples, cut, read_blocks
from benchvoice.bench.gate import Gate
from benchvoice.bench.hold import HoldKey
from benchvoice.bench.intake import Intake

RECORDINGS = Path(__file__).parents[1] / "recordings"
BLOCK = SAMPLE_RATE // 10


@pytest.fixture(scope="module")
def samples() -> Samples:
    return np.concatenate(list(read_blocks(RECORDINGS / "bench_piper.flac")))


@pytest.fixture(scope="module")
def script() -> list[dict[str, float]]:
    text = (RECORDINGS / "script.json").read_text(encoding="utf-8")
    said: list[dict[str, float]] = json.loads(text)["bench_piper"]
    return said


def blocks(samples: Samples) -> list[Samples]:
    return [samples[at : at + BLOCK] for at in range(0, samples.size - BLOCK, BLOCK)]


def test_utterances_are_those_of_the_file_on_the_clock_of_the_sitting(samples: Samples) -> None:
    intake = Intake(Gate())
    found = []
    for number, block in enumerate(blocks(samples), start=1):
        found += intake.push(block, 100.0 + number / 10)
    found += intake.flush()
    plain = list(cut(blocks(samples)))
    assert [one.start - 100.0 for one in found] == pytest.approx([one.start for one in plain])
    assert all(np.array_equal(a.samples, b.samples) for a, b in zip(found, plain, strict=True))


def test_deaf_while_speaking_hears_nothing_of_it_and_all_after(
    samples: Samples, script: list[dict[str, float]]
) -> None:
    gate = Gate()
    intake = Intake(gate)
    found = []
    for number, block in enumerate(blocks(samples), start=1):
        at = number / 10
        if at == 4.0:
            gate.speaks(at)  # just before the second remark
        if at == 5.5:
            gate.spoke(at)  # just after it
        found += intake.push(block, at)
    found += intake.flush()
    starts = [one["start"] for one in script]
    assert [one.start for one in found] == pytest.approx([starts[0], *starts[2:]], abs=0.5)


def test_only_what_is_said_with_the_key_down_is_cut(
    samples: Samples, script: list[dict[str, float]]
) -> None:
    gate = Gate("hold", key=HoldKey())
    intake = Intake(gate)
    down = (script[1]["start"], script[1]["end"])  # pressed as the second remark begins
    found = []
    for number, block in enumerate(blocks(samples), start=1):
        at = number / 10
        if down[0] <= at <= down[1]:
            gate.press(at)
        found += intake.push(block, at)
    found += intake.flush()
    (one,) = found
    assert one.start == pytest.approx(down[0], abs=0.35)
    assert one.end == pytest.approx(down[1], abs=0.5)


def test_deafness_teaches_nothing_of_the_room() -> None:
    noise = np.random.default_rng(1).normal(0, 300, SAMPLE_RATE * 3).astype(np.int16)
    cutter = Cutter()
    for block in blocks(noise):
        cutter.push(block)
    floor = cutter.floor_dbfs
    for block in blocks(noise):
        cutter.push(block, deaf=True)
    assert cutter.floor_dbfs == pytest.approx(floor, abs=1.0)


def test_sound_that_was_lost_does_not_put_later_times_wrong(
    samples: Samples, script: list[dict[str, float]]
) -> None:
    intake = Intake(Gate())
    found = []
    for number, block in enumerate(blocks(samples), start=1):
        if 70 <= number < 80:  # a second between two remarks, lost by a busy machine
            continue
        found += intake.push(block, number / 10)
    found += intake.flush()
    assert found[-1].start == pytest.approx(script[-1]["start"], abs=0.5)


def test_a_shorter_pause_ends_a_remark_sooner(samples: Samples) -> None:
    def end_told(pause: float) -> int:
        cutter = Cutter(CutSettings(endpoint=pause))
        told = (number for number, block in enumerate(blocks(samples)) if cutter.push(block))
        return next(told)

    assert end_told(1.0) - end_told(0.3) == pytest.approx(7, abs=1)
