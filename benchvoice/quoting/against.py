"""A quote against the session that it was for, step by step."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import msgspec

from benchvoice.disk import write_new
from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline
from benchvoice.quoting.quote import Quote, SessionTimes, quote_to_json

SCHEMA = 1
"""The number of the format of saved quotes; greater ones are refused."""


class SavedRange(msgspec.Struct, frozen=True, kw_only=True):
    """Minutes that were quoted; `id` is the step's, None for the whole job."""

    p50: float
    p80: float
    p90: float
    id: str | None = None


class SavedQuote(msgspec.Struct, frozen=True, kw_only=True):
    """A quote as it was saved, as far as it is compared."""

    schema: int
    outline: str
    made_on: date
    sessions: int
    steps: tuple[SavedRange, ...]
    total: SavedRange


@dataclass(frozen=True, kw_only=True)
class StepAgainst:
    """Minutes quoted and taken; `taken` is None where the step was not timed."""

    title: str
    p50: float
    p80: float
    p90: float
    taken: float | None


@dataclass(frozen=True, kw_only=True)
class Against:
    """The steps, and sums over those that were timed.

    `whole` tells whether all steps were timed, so that `total` (the quote's own
    range of the whole job) can be held against `taken`.
    """

    session: str
    made_on: date
    steps: tuple[StepAgainst, ...]
    quoted: float
    taken: float
    total: SavedRange
    whole: bool
    notes: tuple[str, ...]


def saved_json(quote: Quote, made_on: date) -> dict[str, Any]:
    """Give the JSON object that a saved quote is: the published one with its day."""
    return {"schema": SCHEMA, "made_on": made_on.isoformat(), **quote_to_json(quote)}


def save_quote(quote: Quote, path: Path, made_on: date) -> None:
    """Write a quote to a new file.  Raises BadInput when there is one, or it cannot be written."""
    content = msgspec.json.format(msgspec.json.encode(saved_json(quote, made_on)), indent=1)
    write_new(f"{content.decode()}\n", path)


def load_quote(path: Path) -> SavedQuote:
    """Read a saved quote.  Raises BadInput when it cannot be read or is none."""
    try:
        read = msgspec.json.decode(path.read_bytes(), type=SavedQuote)
    except OSError as error:
        raise BadInput.unreadable(path, error) from None
    except (msgspec.MsgspecError, UnicodeDecodeError) as error:
        raise BadInput(
            f"is no saved quote ({error})", mend="give a file that --save wrote", file=path
        ) from None
    if read.schema > SCHEMA:
        raise BadInput(
            f"was saved by a later benchvoice (schema {read.schema})",
            mend="install the later one",
            file=path,
        )
    return read


def as_saved(quote: Quote, made_on: date) -> SavedQuote:
    """Give a fresh quote as if it had been saved and read again."""
    return msgspec.convert(saved_json(quote, made_on), SavedQuote)


def against(
    outline: Outline, quoted: SavedQuote, times: SessionTimes, notes: Sequence[str] = ()
) -> Against:
    """Hold what was quoted against what was taken.

    Raises BadInput when the quote or the session is of another outline.
    """
    for what, name in (("quote", quoted.outline), ("session", times.outline)):
        if name not in (None, outline.name):
            raise BadInput(
                f"the {what} is of outline {name}, not {outline.name}",
                mend=f"give --outline {name}",
            )
    by_id: Mapping[str | None, SavedRange] = {step.id: step for step in quoted.steps}
    rows = tuple(
        StepAgainst(
            title=step.title,
            p50=own.p50,
            p80=own.p80,
            p90=own.p90,
            taken=times.minutes.get(step.id),
        )
        for step in outline.steps()
        if (own := by_id.get(step.id)) is not None
    )
    timed = [row for row in rows if row.taken is not None]
    unknown = sorted(times.minutes.keys() - by_id.keys())
    more = [f"not in the quote: {', '.join(unknown)}"] if unknown else []
    return Against(
        session=times.session,
        made_on=quoted.made_on,
        steps=rows,
        quoted=sum(row.p50 for row in timed),
        taken=sum(row.taken or 0.0 for row in timed),
        total=quoted.total,
        whole=len(timed) == len(rows),
        notes=(*notes, *more),
    )
