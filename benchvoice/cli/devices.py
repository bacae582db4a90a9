"""Arguments of what hears: the engine, the microphone, whose voice it is."""

from __future__ import annotations

import argparse
from pathlib import Path

from benchvoice.audio import Microphone, MicrophoneInfo, list_microphones
from benchvoice.bench.voices import find_voice, voices_folder


def engine(parser: argparse.ArgumentParser) -> None:
    """`--engine`, `--model` and `--user`."""
    parser.add_argument("--engine", choices=("auto", "vosk", "pocketsphinx"), default="auto")
    parser.add_argument("--model", type=Path, help="folder of a Vosk model")
    parser.add_argument("--user", help="whose voice it is, when enrolled (see enrol)")


def device(parser: argparse.ArgumentParser) -> None:
    """`--device`."""
    parser.add_argument("--device", help="microphone: number or part of its name (see check)")


def microphone(device: str | None) -> Microphone:
    """Give the microphone that `--device` says."""
    return Microphone(int(device) if device and device.isdecimal() else device)


def microphone_name(device: str | None) -> str:
    """Give the name of the microphone that `--device` says, or what was said when it is none."""

    def is_meant(one: MicrophoneInfo) -> bool:
        if device is None:
            return one.default
        if device.isdecimal():
            return one.index == int(device)
        return device.casefold() in one.name.casefold()

    return next((one.name for one in list_microphones() if is_meant(one)), device or "default")


def voice_of(args: argparse.Namespace, *, live: bool = False) -> Path | None:
    """Give the voice of `--user`, if one was given and it helps; of the microphone when live.

    Raises BadInput for a user who is not enrolled.
    """
    if args.user is None:
        return None
    return find_voice(voices_folder(), args.user, microphone_name(args.device) if live else None)
