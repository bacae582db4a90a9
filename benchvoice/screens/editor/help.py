"""The keys of the editor, as a table: bindings, help lines and help page are made from it."""

from __future__ import annotations

from typing import NamedTuple

from benchvoice.screens.cells import Line, line
from benchvoice.screens.editor.panels import (
    Form,
    Help,
    Panel,
    StepPick,
    TextPick,
)


class Key(NamedTuple):
    """Keys (as prompt_toolkit names them), their name, a word, a sentence, and what is called.

    Without a `word` it is only on the help page.
    """

    keys: tuple[str, ...]
    name: str
    word: str
    does: str
    method: str


KEYS: tuple[Key, ...] = (
    Key(
        ("enter",), "Enter", "retype", "type the remark anew; what it will mean is shown", "retype"
    ),
    Key(("f",), "f", "fields", "change the findings field by field", "form"),
    Key(("s",), "s", "step", "move it (or all marked) to another step", "pick_step"),
    Key(("y",), "y", "right", "say that it (or all marked) is right as it was heard", "confirm"),
    Key(("p",), "p", "play", "play its clip", "play"),
    Key(("a",), "a", "guesses", "see what else was heard, and choose", "pick_text"),
    Key(("d", "delete"), "d", "delete", "take it (or all marked) out of the record", "delete"),
    Key(("i",), "i", "insert", "put in a remark that was forgotten, after this one", "insert"),
    Key(("b",), "b", "bulk", "change many: those marked, or searched for, or of this step", "bulk"),
    Key(("n",), "n", "next ?", "go to the next one that wants a look", "next_doubtful"),
    Key(
        ("/",),
        "/",
        "search",
        "list only what has these words; ? what wants a look, ! warnings",
        "search",
    ),
    Key(("o",), "o", "order", "list what wants a look first, or in the order of time", "order"),
    Key((" ",), "Space", "mark", "mark it, or take the mark off", "mark"),
    Key(("u",), "u", "undo", "take the last change back, and the one before, ...", "undo"),
    Key(("?",), "?", "help", "this page", "help"),
    Key(("q", "c-c", "c-d"), "q", "quit", "leave; all is saved already", "quit"),
    Key(("U", "c-r"), "U", "", "bring back what was undone", "redo"),
    Key(("x",), "x", "", "split it in two or more", "split"),
    Key(("j",), "j", "", "join it with the next one", "join"),
    Key(("r",), "r", "", "bring back a deleted one (h shows them)", "restore"),
    Key(("t",), "t", "", "change when it was said", "times"),
    Key(("m",), "m", "", "mark all that is listed, or take all marks off", "mark_all"),
    Key(("h",), "h", "", "show also what is deleted, questions and answers", "everything"),
    Key(("escape",), "Esc", "", "stop searching, take the marks off", "clear"),
    Key(("up",), "Up", "", "the one before", "up"),
    Key(("down",), "Down", "", "the next one", "down"),
    Key(("pageup",), "PgUp", "", "a page up", "page_up"),
    Key(("pagedown",), "PgDn", "", "a page down", "page_down"),
    Key(("home", "g"), "Home", "", "the first one", "top"),
    Key(("end", "G"), "End", "", "the last one", "bottom"),
)

_TYPING = (("Enter", "save"), ("Esc", "leave it"), ("Tab", "complete"))
_FORM = (
    *(("Enter", "save, next field"), ("Up Down", "field"), ("Tab", "complete"), ("Esc", "done")),
    *(("PgUp PgDn", "other finding"), ("^N", "new finding"), ("^X", "drop finding")),
)
_PICKING = (("Up Down", "choose"), ("Enter", "take it"), ("Esc", "leave it"))
_READING = (("Up Down", "scroll"), ("Esc", "back"))


def key_lines(panel: Panel | None) -> list[Line]:
    """Give the lines of keys for what is open."""
    if panel is None:
        shown = [(key.name, key.word) for key in KEYS if key.word]
        half = (len(shown) + 1) // 2
        return [_keys(shown[:half]), _keys(shown[half:])]
    if isinstance(panel, Form):
        return [_keys(_FORM[:4]), _keys(_FORM[4:])]
    if isinstance(panel, StepPick | TextPick):
        return [_keys(_PICKING)]
    return [_keys(_READING if isinstance(panel, Help) else _TYPING)]


def _keys(shown: tuple[tuple[str, str], ...] | list[tuple[str, str]]) -> Line:
    pieces: list[tuple[str, str]] = []
    for name, word in shown:
        pieces += [("class:key", f" {name}"), ("", f" {word} ")]
    return line(*pieces)


def help_lines() -> list[Line]:
    """Give the help page."""
    lines = [
        line(("class:strong", " Every change is on the disk before the screen says so.")),
        line(" In the list: ? wants a look, ! has a warning, x deleted, * marked."),
        line(),
    ]
    for key in KEYS:
        lines.append(line(("class:key", f" {key.name:<6}"), key.does))
    return lines
