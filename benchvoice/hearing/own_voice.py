"""The file with a voice's own means, which PocketSphinx takes in place of its model's.

PocketSphinx ends the whole program over a file of means that is torn or of
another shape, so a file is looked through before it is given one.
"""

from __future__ import annotations

import hashlib
import math
from pathlib import Path

import numpy as np

from benchvoice.disk import replacing, sync_file
from benchvoice.errors import EngineError
from benchvoice.hearing.acoustic import Floats, checksum, head_of, write_gaussians
from benchvoice.hearing.pronounce import model_folder

_SPHINX_3 = b"s3\n"
_NUMBERS_OF_A_TRANSFORM = 2 + 3 * (1 + 13 * 13 + 2 * 13)
"""Classes and streams; for each stream its length, a matrix, a bias, scales of the variances."""


def write_voice(means: Floats, path: Path) -> None:
    """Write a voice's means (C, S, K, D), naming the model whose place they take; whole or not."""
    with replacing(path) as part:
        write_gaussians(means, part, note=_of_model())
        sync_file(part)


def voice_setting(path: Path) -> dict[str, str]:
    """Give the setting with which PocketSphinx hears by a voice.

    A file of one transform alone, as enrolment once made, is taken too.
    Raises EngineError for one that is damaged or of another acoustic model.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise EngineError.unreadable(path, error) from None
    if not data.startswith(_SPHINX_3):
        if not _is_transform(data):
            raise _enrol_again("is no voice, or is damaged", path)
        return {"mllr": str(path)}
    model = _of_model()
    if model.encode("ascii") + b"\n" not in data[:200]:
        raise _enrol_again("is a voice for another acoustic model", path)
    if not _is_whole(data, head_of(model)):
        raise _enrol_again("is damaged", path)
    return {"mean": str(path)}


def _of_model() -> str:
    means = (model_folder() / "en-us" / "means").read_bytes()
    return f"model {hashlib.blake2b(means, digest_size=16).hexdigest()}"


def _is_whole(data: bytes, head: bytes) -> bool:
    numbers, kept = data[len(head) : -4], data[-4:]
    if not data.startswith(head) or len(numbers) % 4:
        return False
    return checksum(np.frombuffer(numbers, "<u4")) == int.from_bytes(kept, "little")


def _is_transform(data: bytes) -> bool:
    try:
        numbers = [float(word) for word in data.split()]
    except ValueError:
        return False
    return len(numbers) == _NUMBERS_OF_A_TRANSFORM and all(map(math.isfinite, numbers))


def _enrol_again(what: str, path: Path) -> EngineError:
    return EngineError(what, mend="benchvoice enrol again, or leave --user out", file=path)
