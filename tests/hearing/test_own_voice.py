"""The file of a voice's own means: as PocketSphinx's own, and refused when it is not whole."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest

from benchvoice.errors import EngineError
from benchvoice.hearing.acoustic import read_gaussians, write_gaussians
from benchvoice.hearing.own_voice import voice_setting, write_voice
from benchvoice.hearing.pronounce import model_folder

MEANS = model_folder() / "en-us" / "means"


def test_the_models_own_means_are_written_byte_for_byte(tmp_path: Path) -> None:
    # the file that the PocketSphinx project ships, header and checksum with it
    write_gaussians(read_gaussians(MEANS), tmp_path / "means")
    assert (tmp_path / "means").read_bytes() == MEANS.read_bytes()


def test_a_voice_is_read_again_as_written(tmp_path: Path) -> None:
    means = read_gaussians(MEANS) + 0.5
    write_voice(means, tmp_path / "voice")
    assert np.allclose(read_gaussians(tmp_path / "voice"), means, rtol=1e-6)
    assert voice_setting(tmp_path / "voice") == {"mean": str(tmp_path / "voice")}
    assert [path.name for path in tmp_path.iterdir()] == ["voice"]


@pytest.mark.skipif(os.name != "posix", reason="asks for the mode as POSIX has it")
def test_a_voice_is_synced_as_windows_allows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # FlushFileBuffers: "the file handle must have the GENERIC_WRITE access right" (Windows API)
    import fcntl

    modes = []
    monkeypatch.setattr(os, "fsync", lambda file: modes.append(fcntl.fcntl(file, fcntl.F_GETFL)))
    write_voice(read_gaussians(MEANS), tmp_path / "voice")
    assert [mode & os.O_ACCMODE for mode in modes] == [os.O_RDWR]


def test_a_damaged_voice_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "voice"
    write_voice(read_gaussians(MEANS), path)
    whole = path.read_bytes()
    magic = whole.find(b"endhdr\n") + 7
    turned = []
    for at in (whole.find(b"chksum0"), magic, magic + 4, len(whole) // 2):
        turned.append(bytearray(whole))
        turned[-1][at] ^= 1
    for damaged in (*turned, whole[:-1], whole[:-4], whole[: len(whole) // 2], whole[:150]):
        path.write_bytes(damaged)
        with pytest.raises(EngineError, match="is damaged; benchvoice enrol again"):
            voice_setting(path)
    for other in (b"", b"1\n3\n13\n0.5 0.5", b"\xff" * 900, b"nan " * 590):
        path.write_bytes(other)
        with pytest.raises(EngineError, match="is no voice, or is damaged"):
            voice_setting(path)
    path.unlink()
    with pytest.raises(EngineError, match="cannot be read"):
        voice_setting(path)


def test_a_voice_for_another_model_is_refused(tmp_path: Path) -> None:
    write_gaussians(read_gaussians(MEANS), tmp_path / "voice", note="model 0123")
    with pytest.raises(EngineError, match="another acoustic model; benchvoice enrol again"):
        voice_setting(tmp_path / "voice")
