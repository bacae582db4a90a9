"""What was measured: quantities, readings, and numbers that could mean two things."""

from __future__ import annotations

from benchvoice.grammar.vocabulary import Unit
from benchvoice.language import ahead
from benchvoice.language.assembly import Assembly
from benchvoice.language.chunks import Chunk
from benchvoice.language.draft import Draft
from benchvoice.language.sizes import Reading, amount_of
from benchvoice.remark import Ambiguity, Size

_DEFAULT_QUANTITY = {
    **{"pressure": "pressure", "torque": "torque", "temperature": "temperature"},
    "volume": "oil fill",
}

_DONE = frozenset({"removed", "installed", "cleaned"})
"""What is done with a part that is then measured of something else: "shim out, end play is 8"."""

_UNITS = {
    "pressure": ("psi", "bar"),
    "torque": ("ft-lb", "Nm"),
    "temperature": ("degF", "degC"),
}
"""Which unit is asked for where the quantity is no length (measures.toml has all units)."""
_DIMENSIONS = {
    **{one: one for one in ("pressure", "torque", "temperature", "force", "angle")},
    "fill": "volume",
}
"""Words of quantities that are no lengths, and the dimension of their units."""


def on_measured_at(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "Forward pack clearance": a word that only tells which one is where it was measured."""
    draft, work.waiting = work.waiting, Draft()
    draft.place = chunk.value
    work.push(draft)


def on_quantity(work: Assembly, chunk: Chunk, at: int) -> None:
    """What was measured: of the part before it, or a finding of its own."""
    work.measured = True
    if ahead.along(work.chunks, at):
        work.unused.append(chunk)  # "warped six thou over the length"
        return
    value = ahead.kind(work.chunks, at + 1) in ("reading", "count", "bare number", "ambiguous")
    if work.reading is not None and not (value and _noun_since(work, work.reading, at)):
        work.measure(chunk.value, work.reading)
        return
    draft = work.current
    done = draft is not None and draft.action in _DONE
    if draft is None or draft.measure or draft.conditions or done or work.before == "conj":
        draft, work.waiting = work.waiting, Draft()
        work.push(draft)
    draft.quantity = chunk.value


def _noun_since(work: Assembly, reading: Chunk, at: int) -> bool:
    """Whether a part was named since a value: "a ten thou shim, end play five"."""
    return any(one.kind == "noun" and one.start >= reading.end for one in work.chunks[:at])


def on_reading(work: Assembly, chunk: Chunk, at: int) -> None:
    """A value with its unit: of the quantity said, or of the one its unit implies."""
    reading: Reading = chunk.value
    current = work.current
    sized = current or work.waiting
    assert reading.unit is not None
    if current is not None and current.quantity and current.measure is None:
        if not _is_of(current.quantity, reading.unit):
            work.unused.append(chunk)  # "spring load forty pounds at one inch"
            return
        work.measure(current.quantity, chunk)
    elif current is not None and current.measure is not None and _same(current, reading):
        return
    elif reading.unit.dimension in _DEFAULT_QUANTITY and not ahead.quantity(work.chunks, at + 1):
        work.measure(_DEFAULT_QUANTITY[reading.unit.dimension], chunk)
    elif _is_length(sized, reading) and not ahead.quantity(work.chunks, at + 1):
        assert reading.fraction is not None
        amount = amount_of(reading.fraction, reading.unit.name)
        heads = ahead.word_before(work.chunks, at) in ("head", "heads")
        work.size(at, Size(across_flats=amount) if heads else Size(length=amount))
    else:
        if work.reading is not None:
            work.unused.append(work.reading)
        work.reading = chunk


def _is_of(quantity: str, unit: Unit) -> bool:
    """Whether a unit may be of a quantity that is named for what it is (a length is not)."""
    kind = next((kind for word, kind in _DIMENSIONS.items() if word in quantity), unit.dimension)
    return unit.dimension == kind or unit.name == "deg"


def _same(draft: Draft, reading: Reading) -> bool:
    assert draft.measure is not None and reading.unit is not None
    return (draft.measure.value, draft.measure.unit) == (reading.value, reading.unit.name)


def _is_length(draft: Draft, reading: Reading) -> bool:
    assert reading.unit is not None
    relative = draft.size.relative if draft.size is not None else None
    sized = draft.part is None and relative in ("short", "long")
    return (
        (draft.kind == "fastener" or sized)  # "one is longer, two and a quarter inch"
        and reading.unit.name in ("in", "mm")
        and reading.fraction is not None
        and reading.high is None
        and (draft.size is None or draft.size.length is None)
    )


def on_ambiguous(work: Assembly, chunk: Chunk, at: int) -> None:
    """A value with two readings: both are kept, neither is guessed."""
    reading: Reading = chunk.value
    work.ambiguous.append(Ambiguity(text=reading.text, readings=reading.readings))
    work.unused.append(chunk)
    work.measured = True


def on_doubt(work: Assembly, chunk: Chunk, at: int) -> None:
    """Numbers in a row that could be read in several ways."""
    if len({*chunk.value.readings}) > 1:  # of "8 and 8" there is nothing to choose
        work.ambiguous.append(Ambiguity(text=chunk.value.text, readings=chunk.value.readings))
    work.unused.append(chunk)
    current = work.current
    some = current is not None and current.part is not None and not current.bare()
    if some and ahead.state(work.chunks, at + 1):
        work.push_same(None)  # "eight bolts in tray two one bent": not all of them


def on_bare_number(work: Assembly, chunk: Chunk, at: int) -> None:
    """A fraction or decimal without a unit is never guessed."""
    if unmeasured(work):
        _ask_unit(work, float(chunk.value.value), ("in", "mm"))
    work.unused.append(chunk)


def on_whole_number(work: Assembly, chunk: Chunk) -> None:
    """A whole number that follows what was measured ("runout is two") counts nothing."""
    _ask_unit(work, chunk.value, ("thou", "mm"))
    work.unused.append(chunk)


def unmeasured(work: Assembly) -> bool:
    """Whether a quantity was named whose value is still to come."""
    return work.current is not None and bool(work.current.quantity) and not work.current.measure


def _ask_unit(work: Assembly, number: float, units: tuple[str, str]) -> None:
    assert work.current is not None and work.current.quantity is not None
    own = next((_UNITS[one] for one in _UNITS if one in work.current.quantity), units)
    readings = (f"{number:g} {own[0]}", f"{number:g} {own[1]}")
    work.ambiguous.append(Ambiguity(text=f"{number:g}", readings=readings))
    work.measured = True
