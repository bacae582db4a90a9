"""`benchvoice talk`: the same live, by voice and keyboard."""

from __future__ import annotations

import sys
from argparse import Namespace
from datetime import datetime
from pathlib import Path

import platformdirs
from prompt_toolkit import PromptSession
from prompt_toolkit.patch_stdout import patch_stdout

from benchvoice.audio import Microphone, MicrophoneLike
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears, open_ears
from benchvoice.bench.live import LiveBench, Told
from benchvoice.cli import options, talking
from benchvoice.cli.options import Subcommands, header_of, terminal_width
from benchvoice.cli.printing import tell_missing
from benchvoice.grammar import Outline, load_outline, load_pack
from benchvoice.session import real_clock
from benchvoice.sheets import event_lines, wrapped

_LEAVE = frozenset({"quit", "exit", "leave"})
_HELP = "Say or type what you find; 'quit' or Ctrl-D leaves, the clock stops and all is kept."


def add(commands: Subcommands) -> None:
    """Tell the command line of it."""
    parser = commands.add_parser("talk", help="the same live, by voice and keyboard")
    options.outline(parser, required=True)
    options.session(parser, required=False)
    parser.add_argument("--device", help="microphone: number or part of its name (see check)")
    parser.add_argument("--keyboard", action="store_true", help="typed lines only, no audio at all")
    options.engine(parser)
    talking.add_options(parser)
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice talk`."""
    outline = load_outline(args.outline)
    cut_settings, key = talking.cut_settings_of(args), talking.hold_key_of(args)
    pack = load_pack(outline)
    word = talking.attention_of(args, pack)
    talkback = talking.talkback_of(args, pack)
    ears = open_ears(outline, None if args.keyboard else args.engine, args.model, attention=word)
    tell_missing(ears)
    folder = args.session or _new_folder(outline)
    with Desk.open(ears, folder, header_of(args), real_clock(), asks=True) as desk:
        print(_greeting(ears, outline, desk))
        bench = LiveBench(
            desk,
            lambda item: _show(item, outline),
            None if args.keyboard else lambda: _microphone(args.device),
            cut_settings,
            ears.denoiser,
            gate=talking.gate_of(word, key),
            talkback=talkback,
        )
        bench.start()
        try:
            if sys.stdin.isatty():
                _prompt(bench, desk, outline, key)
            else:
                _read_lines(bench)
        finally:
            bench.stop()
    print(f"Kept in {folder}; see it: benchvoice show {folder}")
    return 0


def _read_lines(bench: LiveBench) -> None:
    for line in sys.stdin:
        text = line.strip()
        if text in _LEAVE:
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
            if text in _LEAVE:
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
    clock = _clock(desk.elapsed) if state.running else "STOPPED"
    level = bench.level
    ear = "keyboard only" if level is None else f"mic {_meter(level)}"
    if level is not None:
        ear += f"  {talking.ear_text(bench, desk)}"
    return f" {clock}  {step.title if step else 'no step yet'}  {ear}"


def _meter(level: float) -> str:
    """A bar of ten from -60 dBFS to 0, and a word when it clips."""
    full = max(0, min(10, round((level + 60) / 6)))
    return "#" * full + "-" * (10 - full) + (" TOO LOUD" if level > -1 else "")


def _greeting(ears: Ears, outline: Outline, desk: Desk) -> str:
    engine = ears.engine.name if ears.engine else "keyboard only"
    width = terminal_width()
    lines = [f"{outline.title}  ({engine})", f"Session {desk.folder}"]
    for text in outline.caution:
        lines += wrapped("  CAUTION ", text, width)
    return "\n".join([*lines, *wrapped("", _HELP, width)])


def _microphone(device: str | None) -> MicrophoneLike:
    return Microphone(int(device) if device and device.isdigit() else device)


def _new_folder(outline: Outline) -> Path:
    """A folder of its own for a job that was given none."""
    jobs = Path(platformdirs.user_data_dir("benchvoice", appauthor=False)) / "sessions"
    stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S")
    return jobs / f"{outline.name}-{stamp}"


def _clock(seconds: float) -> str:
    whole = int(seconds)
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"
