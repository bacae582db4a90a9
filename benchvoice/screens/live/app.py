"""The live screen on the terminal: the bench's worker shows, the typed line puts in."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from queue import SimpleQueue

from prompt_toolkit.application import Application
from prompt_toolkit.buffer import Buffer
from prompt_toolkit.history import InMemoryHistory
from prompt_toolkit.input import Input
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent, merge_key_bindings
from prompt_toolkit.output import Output

from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.live import LiveBench, Told
from benchvoice.follow import State
from benchvoice.grammar import Outline
from benchvoice.screens.live.draw import Screen, draw
from benchvoice.screens.live.view import Ear, View
from benchvoice.screens.terminal import block, full_screen, leaves, typed_row

_PROMPT = " > "
_TICK_SECONDS = 0.25
"""How often it is drawn for the clock and the meter."""


class LiveScreen:
    """The view of a desk; `show` is for the bench's worker thread, the rest for the screen's.

    What the worker shows waits in a queue until the screen is drawn, so that
    only one thread changes the view.
    """

    def __init__(self, desk: Desk, outline: Outline, job: str = "") -> None:
        blank = View(outline=outline, state=desk.state, job=job, folder=str(desk.folder))
        self.view = blank.standing(desk.state)
        self._new: SimpleQueue[tuple[Recorded | Told, State]] = SimpleQueue()
        self._desk = desk
        self._changed: Callable[[], None] = lambda: None

    def on_change(self, changed: Callable[[], None]) -> None:
        """Call `changed` whenever there is something new to draw."""
        self._changed = changed

    def show(self, item: Recorded | Told) -> None:
        """Take in what the bench has to show, and the state it left."""
        self._new.put((item, self._desk.state))
        self._changed()

    def tick(self, level: float | None, ear: str) -> None:
        """Take in what is new, and let time go by; `ear` says whether what is said counts now."""
        while not self._new.empty():
            item, state = self._new.get()
            if isinstance(item, Told):
                self.view = self.view.told(item.text)
            else:
                self.view = self.view.recorded(item, state)
        ear_now = Ear(level=level, state=ear, deaf=not self._desk.listening)
        self.view = self.view.at(self._desk.elapsed, ear_now)

    def seen(self) -> None:
        """Take away the warnings: the user saw them."""
        self.view = self.view.acknowledged()


def live_app(
    screen: LiveScreen,
    bench: LiveBench,
    keys: KeyBindings | None = None,
    ear: Callable[[], str] = lambda: "LISTENING",
    *,
    input: Input | None = None,
    output: Output | None = None,
) -> Application[None]:
    """Make the application; it ends when the user leaves.

    `keys` are bound besides its own; `ear` says whether what is said counts now.
    """
    typed = Buffer(multiline=False, history=InMemoryHistory())
    typed.on_text_insert += lambda _: bench.typing()
    drawing = _Drawing()

    def redraw(app: Application[None]) -> None:
        screen.tick(bench.level, ear())
        drawing.redraw(screen.view, app.output)

    app = full_screen(
        [
            block(lambda: drawing.now.above),
            typed_row(lambda: _PROMPT, typed),
            block(lambda: (drawing.now.below,), height=1),
        ],
        merge_key_bindings([_bindings(screen, bench, typed), keys or KeyBindings()]),
        redraw,
        refresh_seconds=_TICK_SECONDS,
        input=input,
        output=output,
    )
    screen.on_change(lambda: _draw_soon(app))
    return app


def _draw_soon(app: Application[None]) -> None:
    """Ask the screen's thread to draw.  Where it is just ending there is nothing to be asked:
    the bench's worker, which asks, has still to write down what was said last."""
    with suppress(RuntimeError):
        app.invalidate()


class _Drawing:
    """The screen last drawn."""

    def __init__(self) -> None:
        self.now = Screen((), ())

    def redraw(self, view: View, output: Output) -> None:
        """Draw a view for the terminal as it is now: its size, and the letters it can show."""
        size = output.get_size()
        blocks = (output.encoding() or "").lower().replace("-", "") == "utf8"
        self.now = draw(view, size.columns, size.rows, blocks=blocks)


def _bindings(screen: LiveScreen, bench: LiveBench, typed: Buffer) -> KeyBindings:
    bindings = KeyBindings()

    @bindings.add("enter")
    def _entered(event: KeyPressEvent) -> None:
        text = typed.text.strip()
        typed.reset(append_to_history=bool(text))
        if leaves(text):
            event.app.exit()
        elif text:
            bench.typed(text)
        else:
            screen.seen()

    @bindings.add("c-d")
    @bindings.add("c-c")
    def _leave(event: KeyPressEvent) -> None:
        event.app.exit()

    @bindings.add("up")
    def _back(event: KeyPressEvent) -> None:
        typed.history_backward()

    @bindings.add("down")
    def _forward(event: KeyPressEvent) -> None:
        typed.history_forward()

    return bindings
