"""The editor on the terminal: keys to the controller, its document drawn."""

from __future__ import annotations

from collections.abc import Callable

from prompt_toolkit.application import Application
from prompt_toolkit.application.current import get_app
from prompt_toolkit.buffer import Buffer
from prompt_toolkit.data_structures import Size
from prompt_toolkit.document import Document as Text
from prompt_toolkit.filters import Condition
from prompt_toolkit.input import Input
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.layout import AnyContainer, ConditionalContainer, Window
from prompt_toolkit.output import Output

from benchvoice.screens.completing import last_word
from benchvoice.screens.editor.controller import Editor
from benchvoice.screens.editor.draw import Screen, draw
from benchvoice.screens.editor.help import KEYS
from benchvoice.screens.terminal import block, full_screen, typed_row

_ESCAPE_SECONDS = 0.05
"""How long Esc waits for the rest of an arrow key; prompt_toolkit's own half second drags."""


def editor_app(
    editor: Editor, *, input: Input | None = None, output: Output | None = None
) -> Application[None]:
    """Make the application of an editor; `run` it, and it ends when the user leaves."""
    view = _View(editor)
    app = full_screen(
        _rows(view),
        _bindings(view),
        lambda app: view.redraw(app.output.get_size()),
        input=input,
        output=output,
    )
    app.ttimeoutlen = _ESCAPE_SECONDS
    app.timeoutlen = _ESCAPE_SECONDS
    editor.leave = lambda: get_app().exit()
    return app


class _View:
    """The controller, its typed line, and the screen last drawn."""

    def __init__(self, editor: Editor) -> None:
        self.editor = editor
        self.line = Buffer(multiline=False, on_text_changed=self._changed)
        self.screen = Screen((), ())
        self._taking = False

    @property
    def prompt(self) -> str:
        """What the typed line is; empty when nothing is typed."""
        panel = self.editor.document.panel
        return f"{panel.label}: " if panel is not None and panel.label else ""

    def redraw(self, size: Size) -> None:
        """Draw the document for a terminal of this size."""
        self.screen = draw(self.editor.document, size.columns, size.rows)
        self.editor.page = max(1, size.rows // 2 - 2)

    def act(self, action: Callable[[], None]) -> None:
        """Do what a key says, then put the panel's text in the typed line when that changed."""
        before = self.editor.document.panel
        action()
        panel = self.editor.document.panel
        if panel is before:
            return
        text = "" if panel is None else panel.text
        if text != self.line.text:
            self._taking = True
            self.line.document = Text(text)
            self._taking = False

    def complete(self) -> None:
        """End the word before the cursor with the first word offered."""
        panel = self.editor.document.panel
        if panel is not None and panel.offered:
            word = last_word(self.line.document.text_before_cursor)
            self.line.delete_before_cursor(len(word))
            self.line.insert_text(panel.offered[0] + " ")

    def _changed(self, line: Buffer) -> None:
        if not self._taking:
            self.editor.typed(line.text, line.document.text_before_cursor)


def _rows(view: _View) -> list[AnyContainer]:
    """Give the rows; where nothing is typed an empty line keeps the place of the typed one."""
    typing = Condition(lambda: view.prompt != "")
    return [
        block(lambda: view.screen.above),
        ConditionalContainer(typed_row(lambda: view.prompt, view.line), filter=typing),
        ConditionalContainer(Window(height=1), filter=~typing),
        block(lambda: view.screen.below, height=2),
    ]


def _bindings(view: _View) -> KeyBindings:
    editor = view.editor
    bindings = KeyBindings()
    listing = Condition(lambda: editor.document.panel is None)
    for key in KEYS:
        for name in key.keys:
            bindings.add(name, filter=listing)(_calling(view, getattr(editor, key.method)))
    in_panel: dict[str, Callable[[], None]] = {
        "enter": editor.entered,
        "escape": editor.left,
        "c-c": editor.left,
        "tab": view.complete,
        "up": lambda: editor.moved(-1),
        "down": lambda: editor.moved(1),
        "pageup": lambda: editor.paged(-1),
        "pagedown": lambda: editor.paged(1),
        "c-n": editor.finding_added,
        "c-x": editor.finding_dropped,
    }
    for name, action in in_panel.items():
        bindings.add(name, filter=~listing)(_calling(view, action))
    return bindings


def _calling(view: _View, action: Callable[[], None]) -> Callable[[KeyPressEvent], None]:
    def pressed(event: KeyPressEvent) -> None:
        view.act(action)

    return pressed
