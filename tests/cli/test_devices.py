"""The microphone that `--device` says."""

from __future__ import annotations

import pytest

from benchvoice.audio import MicrophoneInfo
from benchvoice.cli import devices
from benchvoice.cli.devices import microphone, microphone_name


@pytest.mark.parametrize(
    ("said", "device"), [(None, None), ("3", 3), ("banjo", "banjo"), ("\u00b2", "\u00b2")]
)
def test_a_number_is_an_index_and_all_else_a_name(
    said: str | None, device: int | str | None
) -> None:
    assert microphone(said).device == device


def test_a_name_is_found_by_index_or_by_part_of_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """As PortAudio's devices are chosen (sounddevice, "Device Selection")."""
    known = [
        MicrophoneInfo(0, "Line 3", 1, 48000.0, False),
        MicrophoneInfo(3, "Banjo", 1, 48000.0, True),
    ]
    monkeypatch.setattr(devices, "list_microphones", lambda: known)
    assert [microphone_name(said) for said in ("3", "line", None, "9", "oboe")] == [
        *("Banjo", "Line 3", "Banjo", "9", "oboe"),
    ]
