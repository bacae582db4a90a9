"""TOML files read into checked values, with mistakes named by line.

`tomllib` forgets where a value stood, so a mistake found later is traced back
by walking the table headers and keys of the text.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from benchvoice.errors import GrammarError

T = TypeVar("T")

AT = re.compile(r" - at `(\$[^`]*)`$")
STEP = re.compile(r"\.(\w+)|\[(\d+|\.\.\.)\]")
"""Where msgspec says that a mistake is, and the steps of that: keys, and places in lists."""
_HEADER = re.compile(r"^\s*(\[\[?)\s*([\w.\-\"]+)\s*\]\]?")
_ARRAY = re.compile(r"^(\w+)\s*=\s*\[\s*(#.*)?$")
_TOML_LINE = re.compile(r" \(at line (\d+), column \d+\)$| \(at end of document\)$")


def read_toml(path: Path, kind: type[T]) -> tuple[T, str]:
    """Read a TOML file as `kind`; also give the text, for `line_of`.

    Raises GrammarError naming file, line and mend.
    """
    value, text = read_table(path)
    try:
        return msgspec.convert(value, kind), text
    except msgspec.ValidationError as error:
        raise shape_error(path, text, str(error)) from None


def read_table(path: Path) -> tuple[dict[str, Any], str]:
    """Read a TOML file as it stands, and its text.  Raises GrammarError."""
    try:
        text = path.read_text(encoding="utf-8-sig")  # some editors mark UTF-8, TOML does not
    except OSError as error:
        raise GrammarError.unreadable(path, error) from None
    except UnicodeDecodeError:
        raise GrammarError("is not UTF-8 text", mend="save it as UTF-8", file=path) from None
    try:
        return tomllib.loads(text), text
    except tomllib.TOMLDecodeError as error:
        raise _syntax_error(path, text, str(error)) from None
    except RecursionError:
        raise GrammarError(
            "has too many lists within lists", mend="close each [ with a ]", file=path
        ) from None


def line_of(text: str, where: str) -> int | None:
    """Give the 1-based line of a place such as `$.stage[0].step[3].minutes`.

    Falls back to the nearest enclosing table; None when nothing matches.
    """
    steps = [name or int(index) for name, index in STEP.findall(where) if index != "..."]
    counts: dict[tuple[str | int, ...], int] = {}
    best: tuple[int, int | None] = (-1, None)
    here: tuple[str | int, ...] = ()
    inline: tuple[str | int, ...] = ()
    index, indent = -1, ""
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        if header:
            here = _enter(counts, header[2].split("."), header[1] == "[[")
            here_now = here
        elif _ARRAY.match(line):  # an array of inline tables, one to a line
            here_now = (*here, line.partition("=")[0].strip())
            inline, index, indent = here_now, -1, ""
        elif inline and line.lstrip().startswith("{"):
            before = line[: len(line) - len(line.lstrip())]
            indent = before if index < 0 else indent
            index += before == indent  # deeper ones are lists within a table
            here_now = (*inline, index)
        elif line.startswith("]"):
            inline = ()
            continue
        else:
            key = line.partition("=")[0].strip().strip('"') if "=" in line else None
            here_now = (*here, key) if key else here
        depth = len(here_now)
        if depth > best[0] and depth and tuple(steps[:depth]) == here_now:
            best = depth, number
    return best[1]


def _enter(
    counts: dict[tuple[str | int, ...], int], names: list[str], array: bool
) -> tuple[str | int, ...]:
    path: tuple[str | int, ...] = ()
    for position, name in enumerate(names):
        path = (*path, name.strip('"'))
        last = position == len(names) - 1
        if last and array:
            counts[path] = counts.get(path, -1) + 1
            for inner in [p for p in counts if len(p) > len(path) and p[: len(path)] == path]:
                del counts[inner]
        if path in counts:
            path = (*path, counts[path])
    return path


def _syntax_error(path: Path, text: str, message: str) -> GrammarError:
    found = _TOML_LINE.search(message)
    line = int(found[1]) if found and found[1] else len(text.splitlines()) or 1
    what = message[: found.start()] if found else message
    return GrammarError(
        f"is not valid TOML: {what}", mend="mend the line before or at it", file=path, line=line
    )


def shape_error(path: Path, text: str, message: str) -> GrammarError:
    """Say what msgspec says of a value, with its line."""
    found = AT.search(message)
    where = found[1] if found else "$"
    what = message[: found.start()] if found else message
    unknown = re.search(r"unknown field `(\w+)`", what)
    missing = re.search(r"missing required field `(\w+)`", what)
    if unknown:
        line = line_of(text, f"{where}.{unknown[1]}")
        return GrammarError(
            f'"{unknown[1]}" is not a known entry here',
            mend="check its spelling or remove it",
            file=path,
            line=line,
        )
    if missing:
        return GrammarError(
            f'"{missing[1]}" is missing',
            mend=f"add {missing[1]} = ... to this table",
            file=path,
            line=line_of(text, where) or 1,
        )
    what = what.replace("`array`", "a list").replace("`str`", "text in quotes")
    what = what.replace("`object`", "a table").replace("`float`", "a number")
    name = where.rpartition(".")[2]
    return GrammarError(
        f"{name}: {what[0].lower()}{what[1:]}",
        mend="correct the value",
        file=path,
        line=line_of(text, where),
    )
