"""Microphones against a stand-in for sounddevice, and the real PortAudio where it is there."""

import os
import subprocess
import sys
import threading
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import soundfile

from benchvoice.audio import (
    SAMPLE_RATE,
    FileMicrophone,
    Microphone,
    list_microphones,
)
from benchvoice.errors import AudioError


class PortAudioError(Exception):
    pass


class FakeStream:
    active = True

    def __init__(self, callback, samplerate: float, channels: int) -> None:
        self.callback, self.rate, self.channels = callback, samplerate, channels
        self.closed = False

    def start(self) -> None:
        self.started = True

    def close(self) -> None:
        self.closed = True

    def give(self, wave: np.ndarray, overflow: bool = False) -> None:
        block = np.repeat(wave[:, None], self.channels, axis=1).astype(np.float32)
        self.callback(block, len(block), None, SimpleNamespace(input_overflow=overflow))


class FakeSound:
    """As much of the sounddevice module as the microphone uses."""

    PortAudioError = PortAudioError
    default = SimpleNamespace(device=(1, 0))

    def __init__(self, rates: set[float], channels: set[int] = frozenset({1})) -> None:
        self.rates, self.channel_counts = rates, channels
        self.devices = [
            {"name": "speaker", "max_input_channels": 0, "default_samplerate": 48000.0},
            {"name": "headset", "max_input_channels": 2, "default_samplerate": 44100.0},
        ]
        self.stream: FakeStream | None = None

    def _terminate(self):
        self.looked_again = True

    def _initialize(self):
        pass

    def query_devices(self, device=None, kind=None):
        if kind is None:
            return self.devices
        if device not in (None, 1, "headset"):
            raise ValueError(f"No input device matching {device!r}")
        return self.devices[1]

    def InputStream(self, *, device, samplerate, channels, dtype, blocksize, callback, latency):  # noqa: N802
        if samplerate not in self.rates:
            raise PortAudioError("Invalid sample rate [PaErrorCode -9997]")
        if channels not in self.channel_counts:
            raise PortAudioError("Invalid number of channels [PaErrorCode -9998]")
        self.stream = FakeStream(callback, samplerate, channels)
        return self.stream


def heard(microphone: Microphone, count: int) -> np.ndarray:
    microphone.stop()  # what is in the queue is still given
    blocks = list(microphone.blocks())
    assert len(blocks) >= count
    return np.concatenate(blocks)


@pytest.mark.parametrize(
    ("rates", "channels", "expected"),
    [({16000.0}, {1}, (16000, 1)), ({44100.0}, {1}, (44100, 1)), ({44100.0}, {2}, (44100, 2))],
)
def test_a_device_is_opened_as_it_allows_and_gives_16_khz(rates, channels, expected) -> None:
    sound = FakeSound(rates, channels)
    with Microphone(backend=sound) as microphone:
        assert (sound.stream.rate, sound.stream.channels) == expected
        rate = expected[0]
        wave = 0.5 * np.sin(2 * np.pi * 1000 * np.arange(rate) / rate)
        for at in range(0, rate, rate // 10):
            sound.stream.give(wave[at : at + rate // 10])
        samples = heard(microphone, 9)
    assert sound.stream.closed
    assert samples.size == pytest.approx(SAMPLE_RATE, rel=0.05)
    spectrum = np.abs(np.fft.rfft(samples))
    assert spectrum.argmax() * SAMPLE_RATE / samples.size == pytest.approx(1000, abs=2)
    # a sine of peak 0.5 has 0.5 / sqrt 2 RMS, -9.03 dBFS
    assert microphone.level == pytest.approx(-9.03, abs=0.2)


def test_a_full_queue_and_the_drivers_losses_are_counted_and_nothing_blocks() -> None:
    sound = FakeSound({16000.0})
    with Microphone(backend=sound) as microphone:
        for _ in range(310):
            sound.stream.give(np.zeros(1600))
        assert microphone.overflows == 10
        sound.stream.give(np.zeros(1600), overflow=True)
        assert microphone.overflows == 12
        assert heard(microphone, 300).size == 300 * 1600


def test_a_pulled_plug_is_said() -> None:
    sound = FakeSound({16000.0})
    with Microphone(backend=sound) as microphone:
        sound.stream.active = False
        with pytest.raises(AudioError, match="stopped giving sound"):
            next(microphone.blocks())


def test_stop_from_another_thread_ends_the_blocks() -> None:
    sound = FakeSound({16000.0})
    with Microphone(backend=sound) as microphone:
        timer = threading.Timer(0.05, microphone.stop)
        timer.start()
        assert list(microphone.blocks()) == []
        timer.join()


def test_no_such_device_is_said() -> None:
    with (
        pytest.raises(AudioError, match='"banjo" cannot be opened'),
        Microphone("banjo", backend=FakeSound({16000.0})),
    ):
        pass
    with (
        pytest.raises(AudioError, match="Invalid sample rate"),
        Microphone(backend=FakeSound(set())),
    ):
        pass


def test_only_what_can_record_is_listed() -> None:
    (one,) = list_microphones(FakeSound({16000.0}))
    assert (one.index, one.name, one.channels, one.rate, one.default) == (
        1,
        "headset",
        2,
        44100,
        True,
    )


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (OSError("PortAudio library not found"), "is not installed; install libportaudio2"),
        (PortAudioError("Error initializing PortAudio\n..."), r"cannot be started \(Error init"),
    ],
)
def test_a_missing_portaudio_is_said(
    monkeypatch: pytest.MonkeyPatch, error: Exception, said: str
) -> None:
    class Broken:
        def find_spec(self, name, path=None, target=None):
            if name == "sounddevice":
                raise error

    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    monkeypatch.setattr(sys, "meta_path", [Broken(), *sys.meta_path])
    with pytest.raises(AudioError, match=said):
        list_microphones()


def test_importing_audio_does_not_load_sounddevice() -> None:
    code = "import sys, benchvoice.audio; sys.exit('sounddevice' in sys.modules)"
    subprocess.run([sys.executable, "-c", code], check=True)


def test_a_file_stands_in_for_a_microphone_at_the_speed_of_speech(tmp_path: Path) -> None:
    samples = np.random.default_rng(1).integers(-9000, 9000, 8000).astype(np.int16)
    soundfile.write(tmp_path / "a.wav", samples, SAMPLE_RATE)
    now, slept = [100.0], []

    def sleep(seconds: float) -> None:
        slept.append(seconds)
        now[0] += seconds

    played = FileMicrophone(tmp_path / "a.wav", realtime=True, sleep=sleep, clock=lambda: now[0])
    with played as microphone:
        blocks = list(microphone.blocks())
    assert np.array_equal(np.concatenate(blocks), samples)
    assert now[0] - 100.0 == pytest.approx(0.5)
    assert microphone.level > -20
    assert FileMicrophone(tmp_path / "a.wav").overflows == 0


def test_a_stopped_file_gives_no_more(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", np.zeros(16000), SAMPLE_RATE)
    microphone = FileMicrophone(tmp_path / "a.wav")
    blocks = microphone.blocks()
    next(blocks)
    microphone.stop()
    assert list(blocks) == []


@pytest.mark.hardware
def test_the_real_portaudio_records_from_a_sound_device(tmp_path: Path) -> None:
    """ALSA's file device plays a 1 kHz sine of 48 kHz as if recorded; no sound card is needed."""
    system = Path("/usr/share/alsa/alsa.conf")
    if not system.exists():
        pytest.skip("ALSA is not installed (apt install libportaudio2)")
    wave = 16000 * np.sin(2 * np.pi * 1000 * np.arange(48000 * 4) / 48000)
    (tmp_path / "in.raw").write_bytes(wave.astype("<i2").tobytes())
    (tmp_path / "asound.conf").write_text(_SINE.format(system=system, folder=tmp_path))
    environment = os.environ | {"ALSA_CONFIG_PATH": str(tmp_path / "asound.conf")}
    done = subprocess.run(
        [sys.executable, "-c", _RECORD],
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    if "not installed" in done.stderr:
        pytest.skip("PortAudio is not installed (apt install libportaudio2)")
    assert done.returncode == 0, done.stderr
    size, hertz, peak = map(float, done.stdout.split())
    assert size == pytest.approx(SAMPLE_RATE, rel=0.05)
    assert hertz == pytest.approx(1000, abs=5)
    assert 14000 < peak < 19000


_SINE = """
<{system}>
pcm.sine {{
    type file
    slave.pcm {{ type null }}
    file /dev/null
    infile {folder}/in.raw
    format raw
}}
pcm.bench {{
    type plug
    slave {{ pcm "sine" rate 48000 format S16_LE channels 1 }}
    hint {{ show on description "a sine" }}
}}
"""
_RECORD = """
import numpy as np
from benchvoice.audio import Microphone, list_microphones
assert "bench" in [one.name for one in list_microphones()]
with Microphone("bench") as microphone:
    blocks = microphone.blocks()
    got = np.concatenate([next(blocks) for _ in range(10)])
print(got.size, np.abs(np.fft.rfft(got)).argmax() * 16000 / got.size, np.abs(got.astype(int)).max())
"""


def test_what_c_libraries_print_is_kept_off_the_terminal_and_python_prints() -> None:
    code = (
        "import os, sys\n"
        "from benchvoice.audio import quiet_libraries\n"
        "with quiet_libraries():\n"
        "    os.write(2, b'Expression failed')\n"
        "    print('a fault of ours', file=sys.stderr)\n"
        "os.write(2, b'after')\n"
    )
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stderr == "a fault of ours\nafter"


def test_a_microphone_plugged_in_since_is_found_by_looking_again() -> None:
    class Unplugged(FakeSound):
        looked_again = False

        def query_devices(self, device=None, kind=None):
            if not self.looked_again:
                raise PortAudioError("Error querying device -1")
            return super().query_devices(device, kind)

    sound = Unplugged({16000.0})
    with Microphone(backend=sound) as microphone:
        sound.stream.give(np.zeros(1600))
        assert heard(microphone, 1).size == 1600
    assert sound.looked_again


def test_a_device_that_does_not_start_is_closed_before_looking_again() -> None:
    class Busy(FakeSound):
        def InputStream(self, **how):  # noqa: N802
            stream = super().InputStream(**how)
            stream.start = self.refuse
            return stream

        def refuse(self) -> None:
            raise PortAudioError("Device unavailable [PaErrorCode -9985]")

        def _terminate(self):
            assert self.stream.closed
            super()._terminate()

    sound = Busy({16000.0})
    with pytest.raises(AudioError, match="cannot be opened"), Microphone(backend=sound):
        pass
    assert sound.stream.closed


def test_how_long_ago_a_block_was_recorded_is_told() -> None:
    now = [50.0]
    sound = FakeSound({16000.0})
    with Microphone(backend=sound, clock=lambda: now[0]) as microphone:
        sound.stream.give(np.zeros(1600))
        now[0] = 52.5  # the reader was kept waiting
        next(microphone.blocks())
        assert microphone.behind == pytest.approx(2.5)
