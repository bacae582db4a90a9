"""What one remark says: the values that pass between the stages.

These are plain immutable values without behaviour.  Field names are the
published JSON names; see `remark_to_json` for the contract.
"""

from __future__ import annotations

from typing import Any, Literal

import msgspec

DOUBTFUL = 0.5
"""A heard remark below this confidence is shown as doubtful; chosen on synthetic bench talk, with
and without a second opinion (`cares` of `hearing_rejection.py`)."""

NEW = "new"
"""The note of a finding about a new part."""

ANOTHER = "another"
"""The note of a finding about one more than those named before ("the other check ball")."""

OUT_OF = "of "
"""Begins the note of a finding counted out of how many there are ("10 of 16 in": "of 16")."""

Kind = Literal["remark", "command", "unclear"]


class Frozen(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the immutable values; equality is by content."""


class Amount(Frozen, frozen=True):
    """A length or width as said: `value` in `unit`, `text` as the trade writes it."""

    value: float
    unit: str
    text: str | None = None


class Size(Frozen, frozen=True):
    """What was said of a size; each part is optional.

    `thread` is the designation ("3/8-16", "M8x1.25"); `relative` is "short",
    "long", "small", "large" and the like.
    """

    thread: str | None = None
    across_flats: Amount | None = None
    length: Amount | None = None
    diameter: Amount | None = None
    relative: str | None = None


class Measure(Frozen, frozen=True):
    """A measured quantity as said: "end play", 12, "thou".

    `high` is the upper end of a range ("ten to fifteen thou").  `si` is the
    same value in the SI unit of its kind (millimetre, newton metre,
    kilopascal, degree Celsius).
    """

    quantity: str
    value: float
    unit: str
    high: float | None = None
    si: Amount | None = None


class Finding(Frozen, frozen=True):
    """One fact out of a remark.  The first nine fields are the published ones.

    `part` is the canonical singular name; `action` is what was done,
    `disposition` what shall happen.  The rest are optional and left out of the
    JSON when empty.
    """

    part: str | None = None
    count: int | None = None
    size: Size | None = None
    place: str | None = None
    condition: str | None = None
    action: str | None = None
    disposition: str | None = None
    container: str | None = None
    measure: Measure | None = None

    conditions: tuple[str, ...] = ()
    """All conditions, when more than one was said; `condition` is the first."""
    side: str | None = None
    ordinal: int | None = None
    """ "second plate" is 2; "last" is -1."""
    orientation: str | None = None
    stack: tuple[str, ...] = ()
    """Parts in the order said, when an order in a stack was given."""
    mark: str | None = None
    tool: str | None = None
    group: str | None = None
    """What it stays together with ("set", "pair", "as a unit")."""
    notes: tuple[str, ...] = ()
    """That the part is a new one or one more, and a head that differs from the standard one."""
    own_step: str | None = None
    """The id of its step, when that is not the one of the whole remark."""

    @property
    def all_conditions(self) -> tuple[str, ...]:
        """All conditions said; empty without any."""
        return self.conditions or tuple(filter(None, [self.condition]))


class Ambiguity(Frozen, frozen=True):
    """Words with more than one reading; nothing was guessed."""

    text: str
    readings: tuple[str, ...]


class StepGuess(Frozen, frozen=True):
    """The outline step a remark seems to belong to; `score` (0 to 100) is how well it fits.

    The rest is optional: `margin` is given only when the guess is unsure, as the chance (0 to 1)
    of the step less that of the next likely one, which is the first of `others`.  `each` has the
    steps of the findings, when they are not all of one.
    """

    id: str
    score: float
    margin: float | None = None
    others: tuple[str, ...] = ()
    each: tuple[str, ...] = ()


class Remark(Frozen, frozen=True):
    """One utterance or typed line, understood as far as it could be.

    `confidence` is 0..1, or None for typed text.  `number` is what a command
    takes ("make that nine": 9), `words` the rest of it ("go to the pump"); one
    that asks for a part or a container has what it asks for in `findings`.
    """

    heard: str
    confidence: float | None = None
    kind: Kind = "unclear"
    command: str | None = None
    step: StepGuess | None = None
    findings: tuple[Finding, ...] = ()
    unparsed: tuple[str, ...] = ()

    number: int | None = None
    words: str | None = None
    ambiguous: tuple[Ambiguity, ...] = ()


def doubt(remark: Remark) -> str | None:
    """Say in words why a remark should be looked at again; None when there is no reason."""
    if remark.confidence is None or remark.confidence >= DOUBTFUL or remark.kind == "unclear":
        return None
    return f'doubtful ({remark.confidence:.0%}), heard "{remark.heard}"'


_PUBLISHED = frozenset(
    {
        *("heard", "confidence", "kind", "command", "step", "findings", "unparsed"),
        *("part", "count", "size", "place", "condition", "action", "disposition"),
        *("container", "measure", "quantity", "value", "unit", "id", "score"),
    }
)


def _tidy(value: Any) -> Any:
    if isinstance(value, dict):
        return {
            key: _tidy(item)
            for key, item in value.items()
            if key in _PUBLISHED or item not in (None, [], ())
        }
    if isinstance(value, list | tuple):
        return [_tidy(item) for item in value]
    return value


def remark_to_json(remark: Remark) -> dict[str, Any]:
    """Give the published JSON object: its fields always, optional ones when set."""
    tidy: dict[str, Any] = _tidy(msgspec.to_builtins(remark, builtin_types=()))
    return tidy


def remark_from_json(value: Any) -> Remark:
    """Read what `remark_to_json` gave.  Raises msgspec.ValidationError."""
    return msgspec.convert(value, Remark)
