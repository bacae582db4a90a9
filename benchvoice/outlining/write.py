"""An outline as a TOML file to go on with by hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import msgspec
import tomlkit
from tomlkit.items import SingleKey

from benchvoice.grammar import Outline, Stage, Step
from benchvoice.grammar.vocabulary import Term
from benchvoice.outlining.values import Drafted

_TABLES = ("part", "place", "qualifier")
_HOW = """\
How to go on with it: check each count against the unit, add what was not said, and look through it
with "benchvoice outline check".  A [[stage.step]] may have, besides what stands here:
  say      other names of the step, lower case, words only;  after: ids of the steps that come first
  caution  shown before the step; write one wherever work can hurt
  hardware uncounted = true is a number that nobody said: give the count instead;
           always_replace = true, or inspect = "what decides"; mark, either_way, lengths
  limit    [{ quantity = "end play", unit = "thou", low = 4, high = 10, source = "manual, page" }]:
           only ever from the unit maker's manual
The outlines that come with benchvoice tell all of it at their top."""


def toml_of(drafted: Drafted) -> str:
    """Give the file: comments at the top, one line for each piece of hardware."""
    outline = drafted.outline
    head = _fields(outline, Outline, but={"stage", "pronounce", *_TABLES})
    blocks = [
        [*_comments("", [*drafted.top, *_HOW.splitlines()])],
        [*_pairs(head)],
        *(block for stage in outline.stage for block in _stage(stage, drafted)),
        *(_term(name, term) for name in _TABLES for term in getattr(outline, name)),
    ]
    if outline.pronounce:
        blocks.append(["[pronounce]", *_pairs(outline.pronounce)])
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def _stage(stage: Stage, drafted: Drafted) -> Iterator[list[str]]:
    yield ["[[stage]]", *_pairs(_fields(stage, Stage, but={"step"}))]
    for step in stage.step:
        yield [*_step(step, drafted)]


def _step(step: Step, drafted: Drafted) -> Iterator[str]:
    yield "[[stage.step]]"
    yield from _pairs(_fields(step, Step, but={"hardware"}), drafted.minutes.get(step.id))
    if step.hardware:
        yield "hardware = ["
        for item in step.hardware:
            yield from _comments("  ", drafted.hardware.get((step.id, item.part, item.place), ()))
            yield f"  {_value(_fields(item, type(item), but=()))},"
        yield "]"
    yield from _comments("", drafted.steps.get(step.id, ()))


def _term(name: str, term: Term) -> list[str]:
    return [f"[[{name}]]", *_pairs(_fields(term, type(term), but=()))]


def _fields(value: Any, kind: type[msgspec.Struct], *, but: Iterable[str]) -> dict[str, Any]:
    """Give what differs from what is meant when it is left out; the required ones always."""
    built = {}
    left = set(but)
    for info in msgspec.structs.fields(kind):
        given = getattr(value, info.name)
        if info.name in left or (not info.required and given == info.default):
            continue
        built[info.name] = given
    return built


def _pairs(fields: Mapping[str, Any], minutes: str | None = None) -> Iterator[str]:
    for name, value in fields.items():
        if isinstance(value, tuple) and value and isinstance(value[0], msgspec.Struct):
            rows = (f"  {_value(row)}," for row in value)
            yield "\n".join([f"{name} = [", *rows, "]"])
        else:
            why = f"  # {minutes}" if minutes and name == "minutes" else ""
            yield f"{_key(name)} = {_value(value)}{why}"


def _value(value: Any) -> str:
    """Write a value on one line; strings and numbers as tomlkit writes them."""
    if isinstance(value, msgspec.Struct):
        return _value(_fields(value, type(value), but=()))
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{_key(name)} = {_value(one)}" for name, one in value.items())
        return f"{{ {pairs} }}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    return str(tomlkit.item(value).as_string())


def _key(name: str) -> str:
    return SingleKey(name).as_string()


def _comments(indent: str, texts: Iterable[str]) -> Iterator[str]:
    """Write comments; what was said or typed cannot end one."""
    for text in texts:
        shown = "".join(char if char.isprintable() else " " for char in text)
        yield f"{indent}# {shown}".rstrip()
