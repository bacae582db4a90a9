"""`benchvoice talk`: the same live, by voice and keyboard."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from contextlib import nullcontext
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs
from prompt_toolkit import PromptSession
from prompt_toolkit.patch_stdout import patch_stdout

from benchvoice.audio import quiet_libraries
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears, open_ears
from benchvoice.bench.live import LiveBench, Told
from benchvoice.bench.talkback import TalkBack
from benchvoice.cli import devices, options, talking
from benchvoice.cli.options import header_of, job_outline, terminal_width
from benchvoice.cli.printing import missing_text, tell_missing
from benchvoice.grammar import Outline, load_pack
from benchvoice.screens.cells import meter
from benchvoice.screens.terminal import leaves
from benchvoice.session import real_clock
from benchvoice.sheets import event_lines, wrapped
from benchvoice.sheets.layout import clock

if TYPE_CHECKING:
    from benchvoice.screens.live import LiveScreen

_HELP = "Say or type what you find; 'quit' or Ctrl-D leaves, the clock stops and all is kept."
_CLIPPING_DBFS = -1.0

_FREE = Outline(name="free", title="No outline: say start and what you begin on", unit="", stage=())
"""A job without an outline: steps are what they are called, and nothing is expected."""


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    options.outline(parser, required=False)
    options.session(parser, required=False)
    devices.device(parser)
    parser.add_argument("--keyboard", action="store_true", help="typed lines only, no audio at all")
    parser.add_argument("--plain", action="store_true", help="lines instead of a full screen")
    devices.engine(parser)
    talking.add_options(parser)
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice talk`."""
    known = job_outline(args)
    outline = known or _FREE
    cut_settings, key = talking.cut_settings_of(args), talking.hold_key_of(args)
    own = options.own_words()
    pack = load_pack(known, own)
    word = talking.attention_of(args, pack)
    talkback = TalkBack(pack, args.say)
    ears = _ears(args, known, own, word)
    tell_missing(ears)
    plain = args.plain or not (sys.stdin.isatty() and sys.stdout.isatty())
    folder = args.session or _new_folder(outline)
    sound = nullcontext() if args.keyboard and args.say == "off" else quiet_libraries()
    with sound, Desk.open(ears, folder, header_of(args), real_clock(), asks=True) as desk:
        screen = None if plain else _screen(desk, ears, outline, args.job)
        if screen is None:
            print(_greeting(ears, outline, desk))
        bench = LiveBench(
            desk,
            screen.show if screen else lambda item: _show(item, outline),
            None if args.keyboard else lambda: devices.microphone(args.device),
            cut_settings,
            ears.denoiser,
            gate=talking.gate_of(word, key),
            talkback=talkback,
        )
        bench.start()
        try:
            _take_lines(bench, desk, outline, screen, key)
        finally:
            bench.stop()
    print(f"Kept in {folder}; see it: benchvoice show {folder}")
    return 0


def _ears(args: Namespace, outline: Outline | None, own: Sequence[Path], word: str | None) -> Ears:
    """Open what hears; with `--keyboard` it only reads."""
    if args.keyboard:
        return open_ears(outline, None, own=own)
    voice = devices.voice_of(args, live=True)
    return open_ears(outline, args.engine, args.model, own=own, attention=word, voice=voice)


def _screen(desk: Desk, ears: Ears, outline: Outline, job: str | None) -> LiveScreen:
    """Make the screen, with what was told before it and would be hidden by it."""
    from benchvoice.screens.live import LiveScreen

    screen = LiveScreen(desk, ears.outline or outline, job or outline.title)
    missing = missing_text(ears)
    if missing:
        screen.show(Told(missing))
    return screen


def _take_lines(
    bench: LiveBench, desk: Desk, outline: Outline, screen: LiveScreen | None, key: str | None
) -> None:
    """Put in what is typed until the user leaves."""
    if screen is not None:
        from benchvoice.screens.live import live_app

        keys = talking.key_bindings(bench, key)
        live_app(screen, bench, keys, lambda: talking.ear_text(bench, desk)).run()
    elif sys.stdin.isatty():
        _prompt(bench, desk, outline, key)
    else:
        _read_lines(bench)


def _read_lines(bench: LiveBench) -> None:
    for line in sys.stdin:
        text = line.strip()
        if leaves(text):
            return
        if text:
            bench.typed(text)


def _prompt(bench: LiveBench, desk: Desk, outline: Outline, key: str | None) -> None:
    session: PromptSession[str] = PromptSession(
        "> ",
        bottom_toolbar=lambda: _toolbar(bench, desk, outline),
        refresh_interval=0.5,
        key_bindings=talking.key_bindings(bench, key),
    )
    session.default_buffer.on_text_insert += lambda _: bench.typing()
    with patch_stdout():
        while True:
            try:
                text = session.prompt().strip()
            except (EOFError, KeyboardInterrupt):
                return
            if leaves(text):
                return
            if text:
                bench.typed(text)


def _show(item: Recorded | Told, outline: Outline) -> None:
    if isinstance(item, Told):
        print(f"* {item.text}", flush=True)
    else:
        print("\n".join(event_lines(item.event, outline, item.clip, terminal_width())), flush=True)
        if item.question is not None:
            print(f"       ? {item.question} (yes, no or later)", flush=True)


def _toolbar(bench: LiveBench, desk: Desk, outline: Outline) -> str:
    state = desk.state
    step = outline.by_id.get(state.current or "")
    time = clock(desk.elapsed) if state.running else "STOPPED"
    return f" {time}  {step.title if step else state.current or 'no step yet'}  {_ear(bench, desk)}"


def _ear(bench: LiveBench, desk: Desk) -> str:
    level = bench.level
    if level is None:
        return "keyboard only"
    loud = " TOO LOUD" if level > _CLIPPING_DBFS else ""
    return f"mic {meter(level)}{loud}  {talking.ear_text(bench, desk)}"


def _greeting(ears: Ears, outline: Outline, desk: Desk) -> str:
    engine = ears.engine.name if ears.engine else "keyboard only"
    width = terminal_width()
    lines = [f"{outline.title}  ({engine})", f"Session {desk.folder}"]
    step = outline.by_id.get(desk.state.current or "")
    if desk.state.log:
        at = f", at: {step.title}" if step else ""
        lines += wrapped("", f"Taken up again{at}.", width)
    for text in (*outline.caution, *(step.cautions if step else ())):
        lines += wrapped("  CAUTION ", text, width)
    return "\n".join([*lines, *wrapped("", _HELP, width)])


def _new_folder(outline: Outline) -> Path:
    """A folder of its own for a job that was given none."""
    jobs = Path(platformdirs.user_data_dir("benchvoice", appauthor=False)) / "sessions"
    stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S")
    return jobs / f"{outline.name}-{stamp}"
