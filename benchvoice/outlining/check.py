"""An outline looked through: everything wrong with it at once, and what it has and lacks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

from benchvoice.errors import GrammarError
from benchvoice.grammar import Outline, Pack, Step, load_pack
from benchvoice.grammar.load import outline_errors
from benchvoice.grammar.outline_talk import as_spoken, outline_sayings
from benchvoice.grammar.toml_file import line_of, read_table
from benchvoice.hearing.pronounce import pronounce
from benchvoice.language import Parser
from benchvoice.outlining.shapes import read_shape

_DANGER = frozenset(
    "spring springs press pressed lift lifted hoist heavy air pressure heat heated hot solvent "
    "pry prying".split()
)
"""Words of a step that want a caution (common practice, no source)."""


@dataclass(frozen=True, kw_only=True)
class OutlineReport:
    """What `look_through` found; the tuples name steps by title, limits and names in words.

    `outline` is None when there are `problems` that keep it from being read.
    `whole` tells that all that refers to other entries could be judged.
    `minutes` is the sum of the book minutes, `untimed` the steps without.
    """

    outline: Outline | None
    problems: tuple[GrammarError, ...] = ()
    whole: bool = True
    minutes: float = 0.0
    untimed: tuple[str, ...] = ()
    uncautioned: tuple[str, ...] = ()
    unsourced: tuple[str, ...] = ()
    unheard: tuple[str, ...] = ()
    not_understood: tuple[str, ...] = ()


def look_through(path: Path, own: Sequence[Path] = ()) -> OutlineReport:
    """Look through the outline in a file; `own` are the user's word lists.

    Raises GrammarError when it cannot be read or is no TOML, which hides all
    the rest, and EngineError when there is no dictionary to look words up in.
    """
    value, text = read_table(path)
    outline, problems = read_shape(value, Outline, path, text)
    if outline is not None:
        problems += [*outline_errors(outline, path, text), *_circles(outline, path, text)]
    if outline is None or problems:
        ordered = sorted(problems, key=lambda error: error.line or 0)
        whole = outline is not None
        return OutlineReport(outline=None, problems=tuple(ordered), whole=whole)
    return _report(outline, load_pack(outline, own))


def _circles(outline: Outline, path: Path, text: str) -> Iterator[GrammarError]:
    steps = {step.id: step for step in outline.steps()}
    try:
        TopologicalSorter({step.id: step.after for step in steps.values()}).prepare()
    except CycleError as error:
        circle = list(dict.fromkeys(error.args[1]))
        if len(circle) > 1:  # one that comes after itself is told of already
            where = next(
                f"$.stage[{number}].step[{index}].after"
                for number, stage in enumerate(outline.stage)
                for index, step in enumerate(stage.step)
                if step.id in circle
            )
            yield GrammarError(
                f"steps come after each other in a circle: {', '.join(circle)}",
                mend="take one of them out of the other's after",
                file=path,
                line=line_of(text, where),
            )


def _report(outline: Outline, pack: Pack) -> OutlineReport:
    steps = list(outline.steps())
    return OutlineReport(
        outline=outline,
        minutes=sum(step.minutes or 0.0 for step in steps),
        untimed=tuple(step.title for step in steps if step.minutes is None),
        uncautioned=tuple(
            step.title for step in steps if not any(step.cautions) and _dangerous(step)
        ),
        unsourced=tuple(
            f"{step.title}: {limit.quantity}"
            for step in steps
            for limit in step.limit
            if not limit.source
        ),
        unheard=_unheard(outline, pack),
        not_understood=tuple(dict.fromkeys(_not_understood(outline, pack))),
    )


def _dangerous(step: Step) -> bool:
    texts = [step.title, *step.say, *step.note, *(item.part for item in step.hardware)]
    return not _DANGER.isdisjoint(word for text in texts for word in as_spoken(text).split())


def _unheard(outline: Outline, pack: Pack) -> tuple[str, ...]:
    """Give the words of the outline that the engine's dictionary does not have."""
    named = [*outline_sayings(outline)]
    for terms in (outline.part, outline.place, outline.qualifier):
        named += [said for term in terms for said in term.ways]
    words = (word for name in named for word in as_spoken(name).split())
    return pronounce(words, pack.pronounce).missing


def _not_understood(outline: Outline, pack: Pack) -> Iterator[str]:
    """Yield the parts and places that are not understood as such when they are said."""
    parser = Parser(pack)

    def names(texts: Iterable[str | None], before: str, field: str) -> Iterator[str]:
        for text in filter(None, texts):
            found = parser.parse(f"{before} {as_spoken(text)}").findings
            if not any(getattr(finding, field) == text for finding in found):
                yield text

    items = [item for step in outline.steps() for item in step.hardware]
    yield from names((item.part for item in items), "removed the", "part")
    yield from names((item.place for item in items), "two bolts off the", "place")
