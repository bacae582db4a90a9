"""All that is wrong with the shape of a file at once, not only the first mistake."""

from __future__ import annotations

import re
from copy import deepcopy
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

import msgspec

from benchvoice.errors import GrammarError
from benchvoice.grammar.toml_file import AT, STEP, shape_error

T = TypeVar("T")

_FIELD = re.compile(r"(unknown|missing required) field `(\w+)`")


def read_shape(
    value: dict[str, Any], kind: type[T], path: Path, text: str
) -> tuple[T | None, list[GrammarError]]:
    """Read a table as `kind`, with all the mistakes of its shape.

    msgspec stops at the first mistake; so that one is cut out and the rest
    read again.  The value is without what was cut out; None when a whole entry
    of a list had to go, as what refers to it cannot be judged then.
    """
    pruned = _Pruned(deepcopy(value))
    errors: list[GrammarError] = []
    while True:
        try:
            read = msgspec.convert(pruned.value, kind)
            return (read if pruned.whole else None), errors
        except msgspec.ValidationError as error:
            message = str(error)
        fault = _fault(message)
        if fault.missing is None or (*fault.at, fault.missing) not in pruned.cut:
            where = "".join(
                f".{step}" if isinstance(step, str) else f"[{step}]"
                for step in pruned.original(fault.at)
            )
            errors.append(shape_error(path, text, f"{AT.sub('', message)} - at `${where}`"))
        if not pruned.cut_out(fault):
            return None, errors


class _Fault(NamedTuple):
    """Where a mistake is, and the key that is missing there or is not known."""

    at: tuple[str | int, ...]
    missing: str | None = None
    unknown: str | None = None


def _fault(message: str) -> _Fault:
    found = AT.search(message)
    field = _FIELD.search(message)
    steps = STEP.findall(found[1]) if found else []
    at = tuple(name or (-1 if index == "..." else int(index)) for name, index in steps)
    if field is None:
        return _Fault(at)
    return _Fault(at, **{"unknown" if field[1] == "unknown" else "missing": field[2]})


class _Pruned:
    """A value with mistakes cut out, that still knows where its list elements stood."""

    def __init__(self, value: dict[str, Any]) -> None:
        self.value = value
        self.cut: set[tuple[str | int, ...]] = set()
        self.whole = True
        self._places: dict[int, list[int]] = {}

    def original(self, at: tuple[str | int, ...]) -> tuple[str | int, ...]:
        """Give a path as it is in the file."""
        here: Any = self.value
        named: list[str | int] = []
        for step in at:
            known = isinstance(step, int) and id(here) in self._places
            named.append(self._places[id(here)][step] if known and isinstance(step, int) else step)
            here = here[step] if _has(here, step) else None
        return tuple(named)

    def cut_out(self, fault: _Fault) -> bool:
        """Take the mistake out; False when that cannot be done."""
        if fault.unknown is not None:
            return self._remove((*fault.at, fault.unknown))
        return self._remove(fault.at)

    def _remove(self, at: tuple[str | int, ...]) -> bool:
        here: Any = self.value
        for step in at[:-1]:
            if not _has(here, step):
                return False
            here = here[step]
        if not at or not _has(here, at[-1]):
            return False
        if isinstance(here, list):
            self.whole = False
            del self._places.setdefault(id(here), list(range(len(here))))[at[-1]]  # type: ignore[arg-type]
        else:
            self.cut.add(at)
        del here[at[-1]]
        return True


def _has(here: Any, step: str | int) -> bool:
    if isinstance(here, dict):
        return step in here
    return isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here)
