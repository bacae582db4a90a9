"""Numbers in a row with more than one reading: kept as ambiguous, never guessed.

"Ten twelve bolts" may be ten, twelve, or ten of some twelve; a count that is
only likely is worse than none.  What is plain stays: a number said twice,
counting aloud from one, and "seven of eight".
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk
from benchvoice.language.numbers import read_run_together
from benchvoice.language.sizes import Reading

_NUMERIC = frozenset({"count", "bare number", "doubt"})
_AMOUNTS = frozenset({"size", "reading", "ambiguous", "container", "all"})
_LINKS = frozenset(
    {*"or to by times plus minus of and through maybe possibly perhaps x less out ,".split()}
    | {"out of"}
)
"""Words that, between two numbers, do not make it plain which one counts."""
_MENDING = frozenset({"maybe", "possibly", "perhaps", ","})
"""What puts a reading right that was begun ("two maybe two and a half thou"), or ends it."""


def settle(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """Replace rows of numbers that could be read in several ways by one chunk "doubt"."""
    chunks = [_torque(chunks, at, tokens) for at in range(len(chunks))]
    if not _any_row(chunks):
        return chunks
    result: list[Chunk] = []
    at = 0
    while at < len(chunks):
        if chunks[at].kind not in _NUMERIC:
            result.append(chunks[at])
            at += 1
            continue
        row, end = _row(chunks, at, tokens)
        if len(row) > 2 and _out_of_then(chunks, at, tokens):
            row, end = row[:2], chunks.index(row[1]) + 1  # "eleven of twelve, one sheared"
        if len(row) == 1 and not _doubtful_alone(chunks, at, end, tokens):
            result.append(chunks[at])
            at += 1
            continue
        links = {_text(c, tokens) for c in chunks[at:end] if c.kind in ("word", "unknown", "conj")}
        pairs = _pairs_off(chunks, at, end, row)
        measured = at > 0 and chunks[at - 1].kind == "quantity"
        whole = chunks[at:end]
        result += _settled(row, links, whole, tokens, pairs=pairs, measured=measured)
        at = end
    return result


def _torque(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> Chunk:
    """ "Torqued to forty", "torqued the nut forty": a torque whose unit is asked, and no count."""
    one = chunks[at]
    if one.kind == "reading" and one.value.high is not None and ahead.kind(chunks, at - 1) == "all":
        text = _text(one, tokens)  # "all twelve to thirty five foot pounds"
        value = Reading("ambiguous", 0, None, text=text, readings=(text, f"all of them, {text}"))
        return one._replace(kind="doubt", value=value)
    to = ahead.token_before(one, tokens) in ("to", "at")
    if (
        one.kind != "count"
        or not (to or ahead.kind(chunks, at - 1) in ("noun", "action"))
        or ahead.noun(chunks, at + 1)
        or ahead.kind(chunks, at + 1) == "doubt"
    ):
        return one
    before = [other.value for other in chunks[max(0, at - 5) : at] if other.kind == "action"]
    if before[-1:] != ["tightened"]:
        return one
    readings = f"{one.value} ft-lb", f"{one.value} Nm"
    text = _text(one, tokens)
    return one._replace(
        kind="doubt", value=Reading("ambiguous", 0, None, text=text, readings=readings)
    )


def _out_of_then(chunks: list[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether a number out of another is told, and after a comma the next."""
    kinds = [ahead.kind(chunks, at + step) for step in range(5)]
    words = [_text(chunk, tokens) for chunk in chunks[at : at + 4]]
    return kinds[0] == kinds[2] == kinds[4] == "count" and words[1::2] == ["of", ","]


def _any_row(chunks: list[Chunk]) -> bool:
    """Whether there are two numbers, or a number and an amount or size, at all."""
    numbers = others = 0
    for chunk in chunks:
        if chunk.kind in _NUMERIC:
            numbers += 1
        elif chunk.kind in _AMOUNTS:
            others += 1
    return numbers > 1 or (numbers == 1 and others > 0)


def _doubtful_alone(chunks: list[Chunk], at: int, end: int, tokens: Sequence[str]) -> bool:
    """Whether one number alone may be no count, for what stands before it."""
    noun = ahead.kind(chunks, end) == "noun"
    if at > 0 and _thread_without_length(chunks[at - 1]):
        return noun  # "m ten thirty bolts"
    if at > 1 and _text(chunks[at - 1], tokens) == "but":
        return any(chunk.kind == "all" for chunk in chunks[max(0, at - 4) : at])
    before = at - 1
    while before > 0 and _links(chunks[before], tokens):
        before -= 1
    label = chunks[before] if before >= 0 else None
    if label is None or label.kind != "container" or not label.value[-1].isdigit():
        return False
    return not ahead.noun(chunks, end)  # "bolts tray one and two"


def _row(chunks: list[Chunk], at: int, tokens: Sequence[str]) -> tuple[list[Chunk], int]:
    """Give the numbers of a row, with only links between them, and where it ends."""
    row, end = [chunks[at]], at + 1
    while True:
        after, links = end, 0
        while after < len(chunks) and _links(chunks[after], tokens):
            links += chunks[after].kind != "article"
            after += 1
        if (links == 0 and after > end) or after >= len(chunks):
            return row, end
        kind = chunks[after].kind
        if kind == "reading" and _counts_before(chunks, at):
            return row, end
        between = {_text(chunk, tokens) for chunk in chunks[end:after]}
        unit = kind in ("reading", "ambiguous") and between.isdisjoint(_MENDING)
        if kind not in _NUMERIC and not unit:
            return row, end
        row.append(chunks[after])
        end = after + 1
        if kind in ("reading", "ambiguous"):
            return row, end


def _settled(
    row: list[Chunk],
    links: set[str],
    whole: list[Chunk],
    tokens: Sequence[str],
    *,
    pairs: bool,
    measured: bool,
) -> list[Chunk]:
    """Give what a row is; `pairs` and `measured` tell what stands around and before it."""
    values = [chunk.value for chunk in row if chunk.kind == "count"]
    if len(values) == len(row) > 1:
        aloud = values[0] == 1 and all(b - a in (0, 1) for a, b in pairwise(values))
        if pairs or (links <= {","} and (aloud or len(set(values)) == 1)):
            return whole
        if len(values) == 2 and links & {"of", "out of"} and values[0] <= values[1]:
            return [_out_of(row[1], values[1]), row[0]]  # "seven of eight bolts": seven
    if len(row) == 2 and row[0].kind == "count" and "of" in links:
        last: Reading = row[1].value
        inches = row[1].kind == "reading" and last.unit is not None and last.unit.name == "in"
        if inches and last.high is None and last.value == int(last.value) >= row[0].value:
            return [_out_of(row[1], int(last.value)), row[0]]  # "10 of 16 in": no inches
    text = " ".join(tokens[whole[0].start : whole[-1].end])
    together = read_run_together(tokens, whole[0].start) if len(whole) == len(row) else None
    readings = tuple(_text(chunk, tokens) for chunk in row)
    if measured and together is not None and together.end == whole[-1].end:
        readings = str(together.value), *readings
    value = Reading("ambiguous", 0, None, text=text, readings=readings)
    return [Chunk("doubt", value, whole[0].start, whole[-1].end)]


def _out_of(chunk: Chunk, number: int) -> Chunk:
    return chunk._replace(kind="out of", value=number)


def _pairs_off(chunks: list[Chunk], at: int, end: int, row: list[Chunk]) -> bool:
    """Whether the first number is of the noun before it, the second of the one after.

    "bolts 8, 12 washers"; the comma or the "and" is what makes it plain.
    """
    between = [chunk for chunk in chunks[at:end] if chunk.kind == "conj"]
    return (
        len(row) == 2
        and bool(between)
        and _counts_before(chunks, at)
        and ahead.kind(chunks, end) == "noun"
    )


def _counts_before(chunks: list[Chunk], at: int) -> bool:
    """Whether a plural stands right before: the number there is how many they are."""
    return at > 0 and chunks[at - 1].kind == "noun" and bool(chunks[at - 1].value.plural)


def _thread_without_length(chunk: Chunk) -> bool:
    """Whether a number right after this may be a length or a pitch as well as a count."""
    return chunk.kind == "size" and chunk.value.thread is not None and chunk.value.length is None


def _links(chunk: Chunk, tokens: Sequence[str]) -> bool:
    if chunk.kind in ("word", "unknown", "conj"):
        return _text(chunk, tokens) in _LINKS
    return chunk.kind == "article" and chunk.value in ("the", "those", "these")


def _text(chunk: Chunk, tokens: Sequence[str]) -> str:
    return " ".join(tokens[chunk.start : chunk.end])
