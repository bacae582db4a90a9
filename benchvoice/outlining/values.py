"""An outline being written: the outline itself, and the comments that go with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from benchvoice.grammar import Outline

HardwareKey = tuple[str, str, str | None]
"""Step id, part and place."""


@dataclass(frozen=True, kw_only=True)
class Drafted:
    """An outline, and what stands as comments at its top, at its steps and at their hardware.

    `minutes` and `steps` map step id to comments (the first on the minutes
    themselves), `hardware` maps (step id, part, place).
    """

    outline: Outline
    top: tuple[str, ...] = ()
    minutes: Mapping[str, str] = field(default_factory=dict)
    steps: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    hardware: Mapping[HardwareKey, tuple[str, ...]] = field(default_factory=dict)
