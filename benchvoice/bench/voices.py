"""Where the voices of enrolled users are kept: one folder a user and microphone."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import msgspec
import numpy as np
import platformdirs

from benchvoice.audio import read_blocks, write_clip
from benchvoice.bench.enrolment import Enrolled, Gain, Reading
from benchvoice.errors import BadInput
from benchvoice.hearing.own_voice import write_voice

SCRIPT = "script.toml"
"""Beside recordings: the name of each file, and what is said in it."""
_READINGS, _PROFILE = "readings", "voice.json"
_MEANS, _TRANSFORM = "voice.means", "transform.mllr"
"""The second is what enrolment once kept; it is still heard by."""


class Voice(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of a user at a microphone."""

    user: str
    microphone: str
    gain: Gain


def voices_folder() -> Path:
    """Where all voices are kept."""
    return Path(platformdirs.user_data_dir("benchvoice", appauthor=False)) / "voices"


def read_script(folder: Path) -> list[Reading]:
    """Read recordings and what is said in them: `script.toml` has lines like "01.flac" = "words".

    Raises BadInput when there is no such script or a recording cannot be read.
    """
    path = folder / SCRIPT
    try:
        lines = msgspec.convert(tomllib.loads(path.read_text(encoding="utf-8")), dict[str, str])
    except OSError:
        raise BadInput(
            "there is no script of what is said in the recordings",
            mend='write one line for each recording: "01.flac" = "eight bolts off front"',
            file=path,
        ) from None
    except (ValueError, msgspec.ValidationError, RecursionError) as error:
        raise BadInput(
            f"the script cannot be read ({error})",
            mend='write one line for each recording: "01.flac" = "eight bolts off front"',
            file=path,
        ) from None
    return [
        Reading(_plain(text), np.concatenate(list(read_blocks(folder / name))))
        for name, text in lines.items()
    ]


def keep_readings(readings: Sequence[Reading], folder: Path) -> None:
    """Keep recordings with their script, so that a voice can be estimated again from them.

    Raises BadInput when the disk does not take them.
    """
    lines = []
    with _written(folder):
        folder.mkdir(parents=True, exist_ok=True)
        for number, one in enumerate(readings, start=1):
            name = f"{number:02d}.flac"
            write_clip(folder / name, one.samples)
            lines.append(f'"{name}" = "{one.text}"\n')
        (folder / SCRIPT).write_text("".join(lines), encoding="utf-8")


def readings_folder(shelf: Path, user: str, microphone: str) -> Path:
    """Where the recordings of a user at a microphone are kept."""
    return _folder(shelf, user, microphone) / _READINGS


def keep_voice(shelf: Path, user: str, microphone: str, enrolled: Enrolled) -> Path:
    """Keep what was found of a voice; its means only when they help.  Gives the folder.

    Raises BadInput when the disk does not take it.
    """
    folder = _folder(shelf, user, microphone)
    voice = Voice(user=user, microphone=microphone, gain=enrolled.gain)
    with _written(folder):
        folder.mkdir(parents=True, exist_ok=True)
        if enrolled.gain.helped:
            write_voice(enrolled.means, folder / _MEANS)
        else:
            (folder / _MEANS).unlink(missing_ok=True)
        (folder / _TRANSFORM).unlink(missing_ok=True)
        (folder / _PROFILE).write_bytes(msgspec.json.encode(voice))
    return folder


def find_voice(shelf: Path, user: str, microphone: str | None = None) -> Path | None:
    """Give the file of an enrolled user's voice; None when it was found to be no help.

    Without a microphone (a recording) the one enrolled last is taken.  Raises
    BadInput for a user who is not enrolled there.
    """
    if microphone is not None:
        folders = [_folder(shelf, user, microphone)]
    else:
        folders = list((shelf / _slug(user)).glob("*"))
    profiles = [path for folder in folders if (path := folder / _PROFILE).is_file()]
    if not profiles:
        where = "" if microphone is None else f' at the microphone "{microphone}"'
        raise BadInput(f'"{user}" is not enrolled{where}', mend=f"benchvoice enrol --user {user}")
    newest = max(profiles, key=lambda path: path.stat().st_mtime)
    kept = (newest.parent / name for name in (_MEANS, _TRANSFORM))
    return next((path for path in kept if path.is_file()), None)


@contextmanager
def _written(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise BadInput(
            f"cannot be written ({error.strerror})", mend="check space and permissions", file=folder
        ) from None


def _folder(shelf: Path, user: str, microphone: str) -> Path:
    return shelf / _slug(user) / _slug(microphone)


def _slug(name: str) -> str:
    """Make a name that is good for a folder on any system."""
    slug = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")
    if not slug:
        raise BadInput(f'"{name}" is no name for a user', mend="use letters or digits")
    return slug


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[^a-z' ]", " ", text.lower()).split())
