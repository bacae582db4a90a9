"""The main job on the recorded demo, against the script that it was spoken from."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "benchmarks"))

from demo_accuracy import is_right, score

from benchvoice.bench.ears import Ears, build_engine
from benchvoice.grammar import load_outline, load_pack
from benchvoice.remark import DOUBTFUL

WANTED = 0.92
"""Share of the remarks that have to come out exactly right."""


@pytest.mark.slow
def test_the_recorded_teardown_comes_out_right(tmp_path: Path) -> None:
    pack = load_pack(load_outline("reversing_gearbox"))
    pairs = score(Ears(pack, build_engine(pack, "pocketsphinx", cache=tmp_path)))
    wrong = [
        (truth["said"], heard.remark.heard if heard else None)
        for truth, heard in pairs
        if not is_right(truth, heard)
    ]
    assert len(pairs) >= 40
    assert 1 - len(wrong) / len(pairs) >= WANTED, wrong
    sure_but_wrong = [
        truth["said"]
        for truth, heard in pairs
        if heard is not None
        and heard.remark.kind != "unclear"
        and not is_right(truth, heard)
        and (heard.remark.confidence or 0.0) >= DOUBTFUL
    ]
    assert len(sure_but_wrong) <= 1, sure_but_wrong
