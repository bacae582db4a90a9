"""What of an event is said aloud, and how pressing it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum
from typing import Literal

from benchvoice.follow import StepEvent, finding_text
from benchvoice.saying.speakable import speakable

Say = Literal["off", "beeps", "warnings", "all"]
"""Nothing; tones for the same as "warnings" and for each entry; warnings, cautions, questions and
what was asked for; and every entry as it was understood too."""

_MOST_WARNINGS = 2


class Urgency(IntEnum):
    """What goes first; the smaller the sooner."""

    CAUTION = 0
    WARNING = 1
    QUESTION = 2
    ANSWER = 3
    ENTRY = 4

    @property
    def pressing(self) -> bool:
        """Whether it is about harm or money: said in a way that is noticed."""
        return self <= Urgency.WARNING


@dataclass(frozen=True)
class Line:
    """One thing to say, in words a voice can say."""

    text: str
    urgency: Urgency


def lines_of(
    event: StepEvent,
    say: Say,
    units: Mapping[str, str] | None = None,
    question: str | None = None,
) -> tuple[Line, ...]:
    """Give what is said of an event at a level; `question` is what it has to be asked about.

    `units` as in `speakable`.
    """
    if say == "off":
        return ()
    said = [(text, Urgency.CAUTION) for text in event.cautions]
    said += [(text, Urgency.WARNING) for text in _first(event.warnings)]
    if question is not None:
        said.append((question, Urgency.QUESTION))
    if event.answer is not None and _is_waited_for(event, say):
        said.append((event.answer, Urgency.ANSWER))
    if say != "warnings" and event.kind == "finding" and question is None:
        found = "; ".join(finding_text(finding) for finding in event.remark.findings)
        said.append((found, Urgency.ENTRY))
    return tuple(Line(speakable(text, units), urgency) for text, urgency in said)


def _first(warnings: tuple[str, ...]) -> tuple[str, ...]:
    """Give the first warnings, and how many more there are: nobody is heard while we speak."""
    more = len(warnings) - _MOST_WARNINGS
    if more <= 0:
        return warnings
    return (*warnings[: _MOST_WARNINGS - 1], f"{warnings[_MOST_WARNINGS - 1]}, and {more} more")


def _is_waited_for(event: StepEvent, say: Say) -> bool:
    """Whether the user waits for the answer of an event; chatter waits for none."""
    if event.kind == "unclear":
        return event.remark.kind == "command" or bool(event.remark.ambiguous)
    asked_for = event.kind in ("asked", "answered", "struck", "recounted")
    return asked_for or bool(event.remark.ambiguous) or say != "warnings"
