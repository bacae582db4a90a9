"""One finding as the fields of a form: read out as text, and put back from text.

What is typed into a field is understood by the same parser as a remark, set
into a remark in which only that field can be meant.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from msgspec.structs import replace

from benchvoice.follow.wording import measure_text, size_texts
from benchvoice.language import Parser
from benchvoice.remark import Finding


class Field(NamedTuple):
    """A field of a finding: its name and what may stand in it, for the help.

    `free` fields take words that the vocabulary lacks, when the user insists.
    `carrier` is the remark that a value is set into, "{}" where it stands.
    """

    name: str
    hint: str
    carrier: str
    free: bool = False


FIELDS: tuple[Field, ...] = (
    Field("part", "bolt, inner lip seal, ...", "{}", free=True),
    Field("count", "a number", "{} bolts"),
    Field("size", "3/8-16 x 1 1/4 long, M8x1.25, 9/16 head", "bolt {}"),
    Field("place", "front cover, under the pump, ...", "bolt at the {}", free=True),
    Field("condition", "cracked, scored and pitted, good", "seal {}", free=True),
    Field("action", "removed, measured, installed, ...", "bolt {}"),
    Field("disposition", "replace, reuse, order, send out, ...", "seal {}"),
    Field("container", "bag 2, tray left side, ...", "bolt in {}"),
    Field("measure", "end play 12 thou", "{}"),
    Field("orientation", "lip up, tabs toward the hub", "seal {}"),
)
"""In the order of the form."""


class Refused(NamedTuple):
    """A value that does not fit its field; `what` says why, in a line."""

    what: str


def field_text(finding: Finding, name: str) -> str:
    """Give the value of a field as it may be typed; empty when there is none."""
    if name == "size":
        return ", ".join(size_texts(finding.size))
    if name == "measure":
        return measure_text(finding.measure) if finding.measure else ""
    if name == "condition":
        return " and ".join(finding.all_conditions)
    value = getattr(finding, name)
    return "" if value is None else str(value)


def with_field(
    finding: Finding, name: str, text: str, parser: Parser, *, insist: bool = False
) -> Finding | Refused:
    """Put a typed value in a field; an empty one clears it.

    With `insist` a free field takes the text as it stands.
    """
    field = next(field for field in FIELDS if field.name == name)
    text = " ".join(text.split())
    if not text:
        return _cleared(finding, name)
    if text == field_text(finding, name):
        return finding
    found = _understood(field, text, parser)
    if found is not None:
        return _TAKE.get(name, _take_plain)(finding, found, name)
    if insist and field.free:
        value: dict[str, Any] = {name: text}
        return replace(_cleared(finding, name), **value)
    if field.free:
        return Refused(f'"{text}" is not in the vocabulary; Enter again takes it as it stands')
    return Refused(f'"{text}" is no {name}; give {field.hint}')


def _understood(field: Field, text: str, parser: Parser) -> Finding | None:
    """Parse a value in its carrier; None unless the whole of it was understood as that field."""
    if field.name == "count" and text.isdecimal():
        return Finding(count=int(text))
    for said in (text, text.lower().removeprefix("the ")):
        remark = parser.parse(field.carrier.format(said))
        if len(remark.findings) != 1 or remark.unparsed or remark.ambiguous:
            continue
        found = remark.findings[0]
        if getattr(found, field.name) is not None and not _strays(found, field):
            return found
    return None


def _strays(found: Finding, field: Field) -> bool:
    """Whether the value said more than its field can hold ("bag 2 cracked" as a container)."""
    carried: tuple[str, ...] = (field.name, "count" if field.name == "part" else "part")
    if field.name == "measure":
        carried = ("measure", "action", "part")
    return any(bool(getattr(found, other.name)) for other in FIELDS if other.name not in carried)


def _cleared(finding: Finding, name: str) -> Finding:
    gone: dict[str, Any] = {name: None}
    if name == "condition":
        gone["conditions"] = ()
    if name == "measure" and finding.action == "measured":
        gone["action"] = None
    if name == "size":
        gone["notes"] = ()
    return replace(finding, **gone)


def _take_plain(finding: Finding, found: Finding, name: str) -> Finding:
    value: dict[str, Any] = {name: getattr(found, name)}
    return replace(finding, **value)


def _take_conditions(finding: Finding, found: Finding, name: str) -> Finding:
    return replace(finding, condition=found.condition, conditions=found.conditions)


def _take_measure(finding: Finding, found: Finding, name: str) -> Finding:
    return replace(finding, measure=found.measure, action=finding.action or found.action)


def _take_size(finding: Finding, found: Finding, name: str) -> Finding:
    return replace(finding, size=found.size, notes=found.notes)


_TAKE: dict[str, Callable[[Finding, Finding, str], Finding]] = {
    "condition": _take_conditions,
    "measure": _take_measure,
    "size": _take_size,
}
