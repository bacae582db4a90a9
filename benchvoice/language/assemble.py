"""Chunks put together into findings: which word belongs to which part.

One pass from left to right.  A noun opens a finding; what follows belongs to
it until the next noun; what comes before the first noun waits for it.  Things
joined by "and" that have nothing of their own share what is said last.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from benchvoice.language import ahead, attributes, counted, nouns, of_them, readings
from benchvoice.language.assembly import Assembly
from benchvoice.language.chunks import Chunk
from benchvoice.remark import Ambiguity, Finding


@dataclass(slots=True)
class Assembled:
    """What came of a remark; `unused` are chunks that found no home."""

    findings: tuple[Finding, ...]
    unused: list[Chunk]
    ambiguous: tuple[Ambiguity, ...]
    measured: bool
    """Whether something was measured, however it was meant."""


def assemble(chunks: Sequence[Chunk]) -> Assembled:
    """Give the findings of a remark."""
    work = Assembly(chunks)
    at = 0
    while at < len(chunks):
        chunk = chunks[at]
        stack = ahead.stack(chunks, at) if chunk.kind == "noun" else None
        if stack is not None:
            work.add_stack(stack[0])
            at = stack[1]
            continue
        handler = _HANDLERS.get(chunk.kind)
        if handler is not None:
            handler(work, chunk, at)
        work.passed(chunk.kind)
        at += 1
    work.close()
    findings: list[Finding] = []
    for draft in work.drafts:
        if draft.empty():
            continue
        finding = draft.finish()
        if draft.another or finding not in findings:
            findings.append(finding)
    return Assembled(tuple(findings), work.unused, tuple(work.ambiguous), work.measured)


_HANDLERS: dict[str, Callable[[Assembly, Chunk, int], None]] = {
    "count": counted.on_count,
    "out of": of_them.on_out_of,
    "noun": nouns.on_noun,
    "ordinal": nouns.on_ordinal,
    "last": nouns.on_last,
    "new": nouns.on_new,
    "article": nouns.on_article,
    "be": attributes.on_be,
    "size": nouns.on_size,
    "relative": nouns.on_relative,
    "which": nouns.on_which,
    "rest": of_them.on_rest,
    "other": of_them.on_other,
    "each side": of_them.on_each_side,
    "condition": attributes.on_condition,
    "action": attributes.on_attribute,
    "disposition": attributes.on_attribute,
    "mark": attributes.on_attribute,
    "tool": attributes.on_attribute,
    "group": attributes.on_attribute,
    "container": attributes.on_container,
    "place": attributes.on_place,
    "side": attributes.on_side,
    "orientation": attributes.on_orientation,
    "way": attributes.on_way,
    "not": attributes.on_not,
    "all": attributes.on_all,
    "same": attributes.on_same,
    "conj": attributes.on_conj,
    "unknown": attributes.on_unknown,
    "broken": attributes.on_stray,
    "stray": attributes.on_stray,
    "bound": attributes.on_stray,
    "measured at": readings.on_measured_at,
    "quantity": readings.on_quantity,
    "reading": readings.on_reading,
    "ambiguous": readings.on_ambiguous,
    "doubt": readings.on_doubt,
    "bare number": readings.on_bare_number,
}
