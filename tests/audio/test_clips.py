"""Clips are whole or not there."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.audio import SAMPLE_RATE, write_clip
from benchvoice.errors import AudioError


def test_a_clip_is_kept_to_the_bit(tmp_path: Path) -> None:
    samples = np.random.default_rng(3).integers(-32768, 32768, 8000).astype(np.int16)
    path = tmp_path / "0001.flac"
    write_clip(path, samples)
    read, rate = soundfile.read(path, dtype="int16")
    assert rate == SAMPLE_RATE
    assert np.array_equal(read, samples)
    assert soundfile.info(path).format == "FLAC"
    assert [found.name for found in tmp_path.iterdir()] == ["0001.flac"]


def test_a_failed_write_leaves_the_old_clip(tmp_path: Path, monkeypatch) -> None:
    path = tmp_path / "0001.flac"
    write_clip(path, np.ones(1600, dtype=np.int16))
    before = path.read_bytes()

    def full(*args: object, **kwargs: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("benchvoice.audio.clips.os.fsync", full)
    with pytest.raises(AudioError, match="No space left"):
        write_clip(path, np.zeros(16000, dtype=np.int16))
    assert path.read_bytes() == before
    assert [found.name for found in tmp_path.iterdir()] == ["0001.flac"]


def test_a_missing_folder_is_said(tmp_path: Path) -> None:
    with pytest.raises(AudioError, match="cannot be written"):
        write_clip(tmp_path / "none" / "a.flac", np.zeros(10, dtype=np.int16))


def test_a_folder_that_is_none_is_said(tmp_path: Path) -> None:
    (tmp_path / "clips").write_bytes(b"")
    with pytest.raises(AudioError, match="cannot be written"):
        write_clip(tmp_path / "clips" / "a.flac", np.zeros(10, dtype=np.int16))
