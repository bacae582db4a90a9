"""Recordings of people for the benchmarks: what cannot be read is passed over and named."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import soundfile

TESTS = Path(__file__).parents[1]
HUMAN = TESTS / "recordings" / "human" / "go_forward.flac"
PLAY = """
import sys
from pathlib import Path
from rejection_sounds import people
print(*(one.text for one in people(Path(sys.argv[1]), None)))
"""


@pytest.mark.parametrize("bad", ["not a recording", ""])
def test_a_recording_that_cannot_be_read_is_passed_over_and_named(tmp_path: Path, bad: str) -> None:
    sound, rate = soundfile.read(HUMAN, dtype="int16")
    soundfile.write(tmp_path / "good.wav", np.stack([sound, sound], axis=1), rate)
    (tmp_path / "bad.wav").write_text(bad, encoding="utf-8")
    paths = [str(TESTS.parent), str(TESTS / "benchmarks"), str(TESTS / "remarks")]
    done = subprocess.run(
        [sys.executable, "-c", PLAY, str(tmp_path)],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(paths)},
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    assert set(done.stdout.split()) == {"good"}
    assert "passed over" in done.stderr
    assert "bad.wav" in done.stderr
    assert "Traceback" not in done.stderr
