"""How the bench listens and talks back, read from the command line of `talk`."""

from __future__ import annotations

import argparse
import re

from prompt_toolkit.key_binding import KeyBindings

from benchvoice.audio import CutSettings
from benchvoice.bench.desk import Desk
from benchvoice.bench.gate import DEFAULT_WORD, Gate, Mode
from benchvoice.bench.hold import HoldKey
from benchvoice.bench.live import LiveBench
from benchvoice.errors import BadInput
from benchvoice.grammar import Pack
from benchvoice.grammar.pack import FUNCTION_WORDS

DEFAULT_KEY = "f8"
_KEY = re.compile(r"f([1-9]|1[0-9]|2[0-4])|space|tab|c-[a-z]|insert|pageup|pagedown|home|end")
_SHORTEST, _LONGEST = 0.2, 3.0
"""Bounds of `--pause` in seconds: within words there are pauses of a tenth or two."""


def add_options(parser: argparse.ArgumentParser) -> None:
    """`--attention`, `--hold`, `--say`, `--pause`."""
    parser.add_argument(
        "--attention",
        nargs="?",
        const=DEFAULT_WORD,
        metavar="WORD",
        help=f'only remarks that begin with this word count ("{DEFAULT_WORD}" if none is given)',
    )
    parser.add_argument(
        "--hold",
        nargs="?",
        const=DEFAULT_KEY,
        metavar="KEY",
        help=f"listen only while a key or foot pedal is held, or tapped on ({DEFAULT_KEY} if none)",
    )
    parser.add_argument(
        "--say",
        choices=("off", "beeps", "warnings", "all"),
        default="off",
        help="talk back: tones, warnings and questions, or every entry too",
    )
    parser.add_argument(
        "--pause",
        type=float,
        metavar="SECONDS",
        help=f"a pause this long ends a remark ({CutSettings().endpoint:g})",
    )


def attention_of(args: argparse.Namespace, pack: Pack) -> str | None:
    """Give the attention word.  Raises BadInput when it is no word, or one of the trade's."""
    if args.attention is None:
        return None
    word = " ".join(str(args.attention).lower().split())
    if not re.fullmatch(r"[a-z']+( [a-z']+)?", word):
        raise BadInput(
            f'the attention word "{word}" cannot be spoken as it is written',
            mend="give one or two words in letters",
        )
    if word in pack.said_words | FUNCTION_WORDS:
        raise BadInput(
            f'"{word}" is a word that remarks have in them',
            mend=f"choose an attention word that nobody says at the bench, such as {DEFAULT_WORD}",
        )
    return word


def hold_key_of(args: argparse.Namespace) -> str | None:
    """Give the key to hold by prompt_toolkit's name.  Raises BadInput for one that is none."""
    if args.hold is None:
        return None
    key = str(args.hold).lower()
    if not _KEY.fullmatch(key):
        raise BadInput(
            f'"{args.hold}" is not a key that can be held',
            mend="give f1 to f24, space, tab, insert, home, end, pageup, pagedown, or c-a to c-z",
        )
    return key


def gate_of(word: str | None, key: str | None) -> Gate:
    """Make the gate: it begins by key when there is one, else by word when there is one."""
    mode: Mode = "hold" if key else "attention" if word else "open"
    return Gate(mode, word, HoldKey() if key else None)


def cut_settings_of(args: argparse.Namespace) -> CutSettings:
    """Give the settings of the cutter.  Raises BadInput for a pause that makes no sense."""
    if args.pause is None:
        return CutSettings()
    if not _SHORTEST <= args.pause <= _LONGEST:
        raise BadInput(
            f"--pause {args.pause:g} is no usable pause",
            mend=f"give {_SHORTEST:g} to {_LONGEST:g} seconds",
        )
    return CutSettings(endpoint=args.pause)


def key_bindings(bench: LiveBench, key: str | None) -> KeyBindings:
    """Bind the key to hold, and F2 and F3 to yes and no while nothing is typed."""
    bindings = KeyBindings()
    if key is not None:
        bindings.add(key)(lambda event: bench.key())
    bindings.add("f2")(lambda event: bench.typed("yes"))
    bindings.add("f3")(lambda event: bench.typed("no"))
    return bindings


def ear_text(bench: LiveBench, desk: Desk) -> str:
    """Say in a word or two whether what is said now counts."""
    if bench.speaking:
        return "SPEAKING"
    if not desk.listening:
        return "NOT LISTENING"
    gate = bench.gate
    if gate.is_open(desk.elapsed):
        return "LISTENING"
    return f'say "{gate.word}"' if gate.mode == "attention" else "hold the key to talk"
