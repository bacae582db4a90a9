"""The Gaussians of PocketSphinx's acoustic model, read out of its files, and means written as one.

The model is phonetically tied: each sound of the language has one codebook of
Gaussians in each of three streams (the cepstra, their slopes, and the slopes
of those), and each state of a sound weighs that codebook in its own way.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from benchvoice.errors import EngineError

Floats: TypeAlias = npt.NDArray[np.float64]

_MEND, _OWN = "install pocketsphinx again", "use PocketSphinx's own model"
_MAGIC = 0x11223344
_WEIGHT_STEP = 1024 * float(np.log(1.0001))
"""Weights are kept as whole steps of a logarithm to 1.0001, cut by 10 bits."""
_LEAST_VARIANCE = 1e-4
"""PocketSphinx's own `varfloor`."""


@dataclass(frozen=True, eq=False)
class AcousticModel:
    """C codebooks (one a sound, in the order of `sounds`) of K Gaussians in S streams of D values.

    `means` and `variances` are shaped (C, S, K, D), `log_weights` (S, K, number of states).
    """

    sounds: tuple[str, ...]
    means: Floats
    variances: Floats
    log_weights: Floats


def read_acoustic_model(folder: Path) -> AcousticModel:
    """Read the model in a folder with `mdef`, `means`, `variances` and `sendump`.

    Raises EngineError when a file is not what it should be.
    """
    means = read_gaussians(folder / "means")
    variances = np.maximum(read_gaussians(folder / "variances"), _LEAST_VARIANCE)
    weights = read_weights(folder / "sendump", streams=means.shape[1])
    sounds = read_sounds(folder / "mdef")
    if not (means.shape == variances.shape and len(sounds) == len(means)):
        raise EngineError("the files of the model do not go together", mend=_MEND, file=folder)
    return AcousticModel(sounds, means, variances, weights)


def read_sounds(mdef: Path) -> tuple[str, ...]:
    """Read the names of a Sphinx model's sounds out of its binary model definition.

    The layout is in the file itself: "BMDF", a version, a described length and
    that description, ten 32-bit counts of which the first is the number of
    sounds, then their names, each ended by a zero byte.
    """
    with _whole(mdef):
        data = mdef.read_bytes()
        if data[:4] != b"BMDF":
            raise EngineError("is not a model definition", mend=_MEND, file=mdef)
        (described,) = struct.unpack_from("<i", data, 8)
        counts = 12 + described
        (phones,) = struct.unpack_from("<i", data, counts)
        names = data[counts + 40 :].split(b"\0", phones)[:phones]
        return tuple(name.decode("ascii") for name in names)


def read_gaussians(path: Path) -> Floats:
    """Read a Sphinx-3 file of means or variances, shaped (C, S, K, D).

    A text header up to "endhdr", a number that shows the byte order, C, S, K,
    the S lengths D, the count of values, the values, and a checksum.
    """
    with _whole(path):
        data = path.read_bytes()
        at = data.find(b"endhdr\n") + len(b"endhdr\n")
        order = next((o for o in "<>" if data[at : at + 4] == struct.pack(f"{o}I", _MAGIC)), None)
        if order is None:
            raise EngineError("is no file of Gaussians", mend=_MEND, file=path)
        codebooks, streams, densities = struct.unpack_from(f"{order}3i", data, at + 4)
        *lengths, count = struct.unpack_from(f"{order}{streams + 1}i", data, at + 16)
        if len(set(lengths)) != 1 or count != codebooks * densities * sum(lengths):
            raise EngineError("has streams of another kind", mend=_OWN, file=path)
        values = np.frombuffer(data, f"{order}f4", count, at + 16 + 4 * (streams + 1))
        return values.reshape(codebooks, streams, densities, lengths[0]).astype(np.float64)


def write_gaussians(values: Floats, path: Path, note: str = "") -> None:
    """Write means (C, S, K, D) as `read_gaussians` and PocketSphinx read them.

    `note` is a line more in the header, a name and a value, which both pass over.
    """
    codebooks, streams, densities, size = values.shape
    heads = [codebooks, streams, densities, *[size] * streams, values.size]
    body = struct.pack(f"<{len(heads)}I", *heads) + values.astype("<f4").tobytes()
    told = struct.pack("<I", checksum(np.frombuffer(body, "<u4")))
    path.write_bytes(head_of(note) + body + told)


def head_of(note: str = "") -> bytes:
    """Give what `write_gaussians` writes ahead of the numbers that are summed up."""
    header = f"s3\nversion 1.0\nchksum0 yes\n{note}{note and chr(10)}      endhdr\n"
    return header.encode("ascii") + struct.pack("<I", _MAGIC)


def checksum(numbers: npt.NDArray[np.uint32]) -> int:
    """Add up the numbers of a Sphinx-3 file after its magic one, as SphinxBase does (bio.c)."""
    found = 0
    for number in numbers.tolist():
        found = ((found << 20 | found >> 12) + number) & 0xFFFFFFFF
    return found


def read_weights(path: Path, streams: int) -> Floats:
    """Read a Sphinx `sendump` of bytes: natural log weights shaped (S, K, number of states).

    Strings, each after its length, up to a length of zero; K and the number
    of states; then a byte for each stream, Gaussian and state.
    """
    with _whole(path):
        data = path.read_bytes()
        at, heads = 0, b""
        while (length := struct.unpack_from("<i", data, at)[0]) > 0:
            heads += data[at + 4 : at + 4 + length]
            at += 4 + length
        densities, states = struct.unpack_from("<2i", data, at + 4)
        body = data[at + 12 :]
        if re.search(rb"cluster_count [1-9]", heads) or len(body) != streams * densities * states:
            raise EngineError("has weights of another kind", mend=_OWN, file=path)
        steps = np.frombuffer(body, np.uint8).reshape(streams, densities, states)
        return -_WEIGHT_STEP * steps.astype(np.float64)


@contextmanager
def _whole(path: Path) -> Iterator[None]:
    """Raise EngineError for a file that breaks off while it is read, or cannot be read at all."""
    try:
        yield
    except OSError as error:
        raise EngineError.unreadable(path, error) from None
    except (struct.error, ValueError):
        raise EngineError("is damaged", mend=_MEND, file=path) from None
