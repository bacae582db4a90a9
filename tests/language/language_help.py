"""Shared by the tests of the remark language."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from benchvoice.grammar import Pack, load_pack
from benchvoice.language import Parser
from benchvoice.remark import Finding, Remark, remark_to_json

FOLLOWING = ("si", "text", "notes")
"""Fields that only follow from the others."""


@cache
def pack() -> Pack:
    return load_pack()


@cache
def parser() -> Parser:
    return Parser(pack())


def parse(text: str) -> Remark:
    return parser().parse(text)


def only(text: str) -> Finding:
    """The one finding of a remark."""
    (finding,) = parse(text).findings
    return finding


def facts(remark: Remark) -> list[dict[str, Any]]:
    """The findings without what is empty and what only follows from the rest."""
    return [dict(_told(finding)) for finding in remark_to_json(remark)["findings"]]


def told(text: str, between: str = " ") -> tuple[list[dict[str, Any]], str]:
    """The facts of a remark, and what of it is left over, with `between` between two stretches."""
    remark = parse(text)
    return facts(remark), between.join(remark.unparsed)


def _told(value: dict[str, Any]) -> Iterator[tuple[str, Any]]:
    for key, item in value.items():
        if key in FOLLOWING or item in (None, [], {}):
            continue
        yield key, dict(_told(item)) if isinstance(item, dict) else item
