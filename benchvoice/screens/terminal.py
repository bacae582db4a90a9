"""What the screens are to prompt_toolkit: full-screen applications with one typed line."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from prompt_toolkit.application import Application
from prompt_toolkit.buffer import Buffer
from prompt_toolkit.input import Input
from prompt_toolkit.key_binding import KeyBindingsBase
from prompt_toolkit.layout import (
    AnyContainer,
    BufferControl,
    FormattedTextControl,
    HSplit,
    Layout,
    VSplit,
    Window,
)
from prompt_toolkit.output import Output

from benchvoice.screens.cells import Line, fragments
from benchvoice.screens.style import colour_depth, colourless, screen_style

_LEAVE = frozenset({"quit", "exit", "leave"})


def leaves(text: str) -> bool:
    """Whether a typed line says that the user wants to leave.

    >>> leaves(" Quit "), leaves("quit the case")
    (True, False)
    """
    return text.strip().lower() in _LEAVE


def block(lines: Callable[[], Sequence[Line]], height: int | None = None) -> Window:
    """Make a window on lines that are drawn anew each time."""
    return Window(FormattedTextControl(lambda: fragments(lines())), height=height)


def typed_row(label: Callable[[], str], typed: Buffer) -> VSplit:
    """Make the line that is typed, behind its label."""
    return VSplit(
        [
            Window(
                FormattedTextControl(lambda: [("class:label", label())]),
                width=lambda: len(label()),
                height=1,
            ),
            Window(BufferControl(typed), height=1),
        ]
    )


def full_screen(
    rows: Sequence[AnyContainer],
    keys: KeyBindingsBase,
    redraw: Callable[[Application[None]], None],
    *,
    refresh_seconds: float | None = None,
    input: Input | None = None,
    output: Output | None = None,
) -> Application[None]:
    """Make an application of rows from top to bottom; `redraw` comes before each time it is shown.

    Without `refresh_seconds` it is shown when something happens only.  `input` and `output`
    stand in for the terminal.
    """
    colour = not colourless()
    return Application(
        layout=Layout(HSplit(rows)),
        key_bindings=keys,
        style=screen_style(colour=colour),
        color_depth=colour_depth(colour=colour),
        full_screen=True,
        refresh_interval=refresh_seconds,
        input=input,
        output=output,
        before_render=redraw,
    )
