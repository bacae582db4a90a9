"""The hands-free commands as they are said, with what they take."""

from __future__ import annotations

from benchvoice.grammar.outline_talk import step_sayings
from benchvoice.grammar.pack import Pack, part_forms, plural_of
from benchvoice.grammar.readings import Said
from benchvoice.grammar.spoken import cardinal_ways
from benchvoice.grammar.vocabulary import Command

_OPEN_ENDS = frozenset({"to", "the", "on", "with"})
"""A command that ends so is not said without what it takes."""
_WITH_OUTLINE = 3.0
"""So much more often are steps named when there are some."""
_LABELS = 9
"""Trays and bags are asked for by number up to this one."""
_NUMBERS = (*range(1, 25), 30, 32, 36, 40, 48, 60, 100, 108)


def command_pool(pack: Pack) -> list[Said]:
    """Give commands with their arguments, by weight; `value` is the command's name."""
    pool: list[Said] = []
    numbers = [way for number in _NUMBERS for way in cardinal_ways(number)]
    for command in pack.command:
        ways = [(way, way.partition(" {")[0]) for way in command.ways]
        for way, start in ways:
            weight = command.weight / len(ways)
            if command.takes == "step" and pack.outline is not None:
                weight *= _WITH_OUTLINE
            if command.takes == "number":
                said = [f"{start} {number}" for number in numbers]
            elif command.takes in ("container", "part"):
                named = _containers(pack) if command.takes == "container" else _parts(pack)
                said = [f"{start} {name}" for name in named]
            elif command.takes == "step" and _takes_step(start):
                said = _with_step(start, pack)
            else:
                said = [start]
            if command.takes and way == start and _stands_alone(start, command):
                said.append(start)
            pool += [Said(words, command.name, weight / len(said)) for words in said]
    return pool


def _containers(pack: Pack) -> list[str]:
    return [
        f"{container.name} {number}"
        for container in pack.container
        if container.labelled
        for label in range(1, _LABELS + 1)
        for number in cardinal_ways(label)
    ]


def _parts(pack: Pack) -> list[str]:
    """Give parts as they are asked for: the outline's with their places, else all of them."""
    if pack.outline is None:
        return [part_forms(part)[1][0] for part in pack.part]
    items = [item for step in pack.outline.steps() for item in step.hardware]
    names = (
        f"{item.place} {item.part}" if item.place and item.place not in item.part else item.part
        for item in items
    )
    many = (item.several for item in items)
    return list(
        dict.fromkeys(
            plural_of(name) if several else name for name, several in zip(names, many, strict=True)
        )
    )


def _takes_step(start: str) -> bool:
    return not {"step", "work"} & set(start.split())


def _stands_alone(start: str, command: Command) -> bool:
    last = start.rpartition(" ")[2]
    return command.takes == "step" and command.name != "go" and last not in _OPEN_ENDS


def _with_step(start: str, pack: Pack) -> list[str]:
    if pack.outline is None:
        names = [place.name for place in pack.place if " " in place.name]
    else:
        names = list(step_sayings(pack.outline))
    if start.endswith(" the"):
        names = [name for name in names if " the " not in f" {name} "]
    return [f"{start} {name}" for name in names]
