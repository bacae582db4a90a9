"""The whole of `talk` in a room of its own: a sound server whose loudspeaker its microphone hears.

PulseAudio's null sink gives what is played to it back as a recording
("monitor", PulseAudio's documentation of module-null-sink), so a recording
can be spoken into the microphone, and the bench hears its own voice.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from benchvoice.audio import cut, read_blocks

RECORDING = Path(__file__).parents[1] / "recordings" / "bench_piper.flac"
SYSTEM = Path("/usr/share/alsa/alsa.conf")
PLUGINS = ("/usr/lib/*/alsa-lib/libasound_module_pcm_pulse.so", "/usr/lib64/alsa-lib/*pcm_pulse.so")
WAIT = 300.0
"""Seconds after which something will not come any more, however busy the machine is."""

pytestmark = [pytest.mark.hardware, pytest.mark.slow]


@dataclass(frozen=True)
class Room:
    folder: Path
    environment: dict[str, str]

    def run(self, *command: str | Path) -> str:
        words = [str(word) for word in command]
        done = subprocess.run(
            words, env=self.environment, capture_output=True, text=True, timeout=WAIT, check=False
        )
        assert done.returncode == 0, f"{words}: {done.stderr}"
        return done.stdout

    def start(self, *command: str | Path, **streams: Any) -> subprocess.Popen[str]:
        return subprocess.Popen(
            [str(word) for word in command], env=self.environment, text=True, **streams
        )

    def is_recorded(self) -> bool:
        return bool(self.run("pactl", "list", "short", "source-outputs").strip())


def until(true: Callable[[], bool], what: str) -> None:
    end = time.monotonic() + WAIT
    while not true():
        assert time.monotonic() < end, f"{what} did not come"
        time.sleep(0.1)


@pytest.fixture
def room(tmp_path: Path, engine_cache: Path, no_network: dict[str, str]) -> Iterator[Room]:
    missing = [
        name for name in ("pulseaudio", "pactl", "paplay", "parec") if not shutil.which(name)
    ]
    plugin = any(list(Path("/").glob(pattern[1:])) for pattern in PLUGINS)
    if missing or not plugin or not SYSTEM.exists():
        pytest.skip(
            "no PulseAudio with its ALSA plugin (apt install pulseaudio libasound2-plugins)"
        )
    socket = tmp_path / "socket"
    (tmp_path / "asound.conf").write_text(
        f"<{SYSTEM}>\npcm.!default {{ type pulse }}\nctl.!default {{ type pulse }}\n"
    )
    (tmp_path / "run").mkdir(mode=0o700)
    own = {
        "HOME": str(tmp_path),
        "XDG_RUNTIME_DIR": str(tmp_path / "run"),
        "XDG_CACHE_HOME": str(engine_cache),
        "XDG_DATA_HOME": str(tmp_path / "data"),
        "BENCHVOICE_HOME": str(tmp_path / "home"),
        "PULSE_SERVER": f"unix:{socket}",
        "ALSA_CONFIG_PATH": str(tmp_path / "asound.conf"),
    }
    made = Room(tmp_path, os.environ | own | no_network)  # listening and talking go nowhere else
    server = made.start(
        *("pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1"),
        *("-L", f"module-native-protocol-unix socket={socket} auth-anonymous=1"),
        *("-L", "module-null-sink sink_name=room"),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        until(lambda: socket.exists() or server.poll() is not None, "the sound server")
        assert server.poll() is None, "the sound server ended"
        yield made
    finally:
        server.terminate()
        server.wait(WAIT)


@pytest.fixture
def talk(room: Room) -> Iterator[Callable[..., subprocess.Popen[str]]]:
    begun: list[subprocess.Popen[str]] = []

    def start(session: Path, *options: str) -> subprocess.Popen[str]:
        process = room.start(
            *(sys.executable, "-m", "benchvoice", "talk", "--outline", "reversing_gearbox"),
            *("--engine", "pocketsphinx", "--session", session, *options),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
        )
        begun.append(process)
        until(lambda: room.is_recorded() or process.poll() is not None, "the microphone")
        assert process.poll() is None, process.communicate()[0]
        return process

    yield start
    for process in begun:
        process.kill()
        process.communicate()


def events(session: Path) -> list[dict[str, Any]]:
    lines = (session / "session.jsonl").read_text(encoding="utf-8").splitlines()
    return [one for line in lines if (one := json.loads(line)).get("record") == "event"]


def meaning(event: dict[str, Any]) -> tuple[object, ...]:
    return event["kind"], event["step"], event["remark"]["findings"], event["remark"]["command"]


def test_what_is_said_into_the_microphone_is_what_the_recording_gives(
    room: Room, talk: Callable[..., subprocess.Popen[str]]
) -> None:
    """The first three remarks of the recording, some eight seconds."""
    samples, rate = soundfile.read(RECORDING, dtype="int16")
    spoken = room.folder / "spoken.wav"
    soundfile.write(spoken, samples[: round(7.8 * rate)], rate)
    replayed, live = room.folder / "replayed", room.folder / "live"
    room.run(
        *(sys.executable, "-m", "benchvoice", "replay", spoken, "--session", replayed),
        *("--outline", "reversing_gearbox", "--engine", "pocketsphinx"),
    )
    expected = [meaning(event) for event in events(replayed)]
    assert [kind for kind, *_ in expected] == ["finding", "finding", "started"]

    process = talk(live)
    room.run("paplay", spoken)
    until(lambda: len(events(live)) >= len(expected), "the last remark")
    out, _ = process.communicate("quit\n", timeout=WAIT)
    assert process.returncode == 0, out
    assert [meaning(event) for event in events(live)] == expected


def test_its_own_voice_makes_no_entry(
    room: Room, talk: Callable[..., subprocess.Popen[str]]
) -> None:
    if shutil.which("espeak-ng") is None:
        pytest.skip("espeak-ng is not installed")
    session, heard = room.folder / "live", room.folder / "heard.wav"
    process = talk(session, "--say", "all")
    recorder = room.start(
        *("parec", "--device=room.monitor", "--rate=16000", "--channels=1"),
        *("--format=s16le", "--file-format=wav", heard),
    )
    assert process.stdin is not None
    process.stdin.write("nine bolts off the end cover\n")
    process.stdin.flush()
    playing = lambda: bool(room.run("pactl", "list", "short", "sink-inputs").strip())  # noqa: E731
    until(playing, "the voice")
    quiet = 0
    while quiet < 20:  # two seconds without a sound: all has been said, and heard if it can be
        quiet = 0 if playing() else quiet + 1
        time.sleep(0.1)
    out, _ = process.communicate("quit\n", timeout=WAIT)
    recorder.terminate()
    recorder.wait(WAIT)
    assert process.returncode == 0, out
    assert "10 bolts expected, 9 said" in out
    assert [event["kind"] for event in events(session)] == ["finding"]
    # it was there to be heard: the same microphone without deafness has utterances of it
    said = list(cut(read_blocks(heard)))
    assert sum(one.end - one.start for one in said) > 2.0
    assert np.abs(said[0].samples).max() > 3000
