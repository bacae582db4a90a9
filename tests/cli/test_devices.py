"""The microphone that `--device` says."""

from __future__ import annotations

import pytest

from benchvoice.cli.devices import microphone


@pytest.mark.parametrize(
    ("said", "device"), [(None, None), ("3", 3), ("banjo", "banjo"), ("\u00b2", "\u00b2")]
)
def test_a_number_is_an_index_and_all_else_a_name(
    said: str | None, device: int | str | None
) -> None:
    assert microphone(said).device == device
