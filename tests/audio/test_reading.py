"""Recordings of any rate and channel count become 16 kHz mono, held against plain arithmetic."""

import tracemalloc
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.audio import SAMPLE_RATE, Normaliser, level_dbfs, read_blocks, recording_seconds
from benchvoice.errors import AudioError


def sine(rate: int, seconds: float, hertz: float = 440.0, peak: float = 0.5) -> np.ndarray:
    return peak * np.sin(2 * np.pi * hertz * np.arange(round(rate * seconds)) / rate)


def loudest_hertz(samples: np.ndarray) -> float:
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(samples.size)))
    return float(spectrum.argmax() * SAMPLE_RATE / samples.size)


@pytest.mark.parametrize("rate", [8000, 11025, 16000, 22050, 32000, 44100, 48000, 96000, 192000])
@pytest.mark.parametrize("channels", [1, 2, 8])
def test_a_sine_keeps_its_pitch_length_and_level(tmp_path: Path, rate: int, channels: int) -> None:
    path = tmp_path / "sine.wav"
    wave = np.repeat(sine(rate, 2.0)[:, None], channels, axis=1)
    soundfile.write(path, wave, rate, subtype="PCM_24")
    blocks = list(read_blocks(path, 0.1))
    samples = np.concatenate(blocks)
    assert samples.dtype == np.int16
    assert len(blocks) > 10
    assert samples.size == pytest.approx(2.0 * SAMPLE_RATE, abs=2)
    assert loudest_hertz(samples) == pytest.approx(440.0, abs=0.51)  # one bin is 0.5 Hz
    # the RMS of a sine is its peak / sqrt 2: 0.5 is -9.03 dBFS
    assert level_dbfs(samples[1600:-1600]) == pytest.approx(-9.03, abs=0.05)
    assert recording_seconds(path) == pytest.approx(2.0, abs=1e-6)


@pytest.mark.parametrize("kind", ["WAV", "FLAC", "OGG"])
def test_the_kinds_of_file(tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"sine.{kind.lower()}"
    soundfile.write(path, sine(44100, 1.0), 44100, format=kind)
    samples = np.concatenate(list(read_blocks(path)))
    assert samples.size == pytest.approx(SAMPLE_RATE, abs=2)
    assert loudest_hertz(samples) == pytest.approx(440.0, abs=1.01)


def test_what_is_above_8_khz_does_not_fold_down(tmp_path: Path) -> None:
    # Nyquist: 11 kHz cannot be held at 16 kHz and would alias to 5 kHz
    path = tmp_path / "high.wav"
    soundfile.write(path, sine(48000, 1.0, hertz=11000), 48000)
    assert level_dbfs(np.concatenate(list(read_blocks(path)))[800:-800]) < -80


def test_blocks_of_any_length_give_the_same_sound() -> None:
    wave = sine(44100, 1.0).astype(np.float32)[:, None]

    def through(size: int) -> np.ndarray:
        normaliser = Normaliser(44100)
        parts = [normaliser.push(wave[at : at + size]) for at in range(0, len(wave), size)]
        return np.concatenate([*parts, normaliser.finish()])

    whole = through(len(wave))
    assert np.abs(through(441).astype(int) - whole).max() <= 1
    assert np.abs(through(1999).astype(int) - whole).max() <= 1


@given(st.lists(st.floats(width=32), min_size=1, max_size=50))
def test_values_that_are_no_sound_become_silence(values: list[float]) -> None:
    out = Normaliser(SAMPLE_RATE).push(np.array(values, dtype=np.float32)[:, None])
    for value, sample in zip(values, out.tolist(), strict=True):
        if not np.isfinite(value):
            assert sample == 0
        else:
            assert sample == np.clip(np.rint(float(value) * 32768.0), -32768, 32767)


def test_a_float_recording_with_nan_is_read(tmp_path: Path) -> None:
    path = tmp_path / "nan.wav"
    wave = sine(48000, 0.5)
    wave[1000:1100] = np.nan
    wave[2000] = np.inf
    soundfile.write(path, wave, 48000, subtype="FLOAT")
    assert np.concatenate(list(read_blocks(path))).size == pytest.approx(8000, abs=2)


def test_sixteen_bit_sound_is_not_changed(tmp_path: Path) -> None:
    samples = np.random.default_rng(1).integers(-32768, 32768, 5000).astype(np.int16)
    soundfile.write(tmp_path / "a.flac", samples, SAMPLE_RATE)
    assert np.array_equal(np.concatenate(list(read_blocks(tmp_path / "a.flac"))), samples)


def test_memory_does_not_grow_with_length(tmp_path: Path) -> None:
    path = tmp_path / "long.wav"
    with soundfile.SoundFile(path, "w", 8000, 1, subtype="PCM_U8") as file:
        for _ in range(60):
            file.write(np.zeros(8000 * 10))
    tracemalloc.start()
    total = sum(block.size for block in read_blocks(path))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert total == pytest.approx(600 * SAMPLE_RATE, abs=4)
    assert peak < 2_000_000  # the whole would be 19 MB


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda path: None, "no such recording"),
        (lambda path: path.mkdir(), "not a file"),
        (lambda path: path.write_bytes(b""), "empty"),
        (lambda path: path.write_bytes(b"no sound at all" * 99), "not a recording"),
        (lambda path: soundfile.write(path, np.zeros(0), 16000), "no sound"),
    ],
)
def test_what_cannot_be_read_is_said(tmp_path: Path, make: object, says: str) -> None:
    path = tmp_path / "a.wav"
    make(path)  # type: ignore[operator]
    with pytest.raises(AudioError, match=says) as error:
        list(read_blocks(path))
    assert str(path) in str(error.value)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize("kind", ["wav", "flac"])
def test_a_recording_that_breaks_off_is_read_up_to_there(tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"a.{kind}"
    noise = np.random.default_rng(1).normal(0, 0.1, SAMPLE_RATE * 4)
    soundfile.write(path, noise, SAMPLE_RATE)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    seconds = sum(block.size for block in read_blocks(path, 0.1)) / SAMPLE_RATE
    assert 1.5 < seconds < 2.1  # to within a FLAC frame and a block
