"""`benchvoice enrol`: read some remarks aloud, to be heard better from then on."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from pathlib import Path

from benchvoice.audio import Cutter, MicrophoneLike, Samples, open_denoiser
from benchvoice.bench.ears import build_engine
from benchvoice.bench.enrolment import LEAST, Reading, enrol, sentences_to_read
from benchvoice.bench.voices import (
    keep_readings,
    keep_voice,
    read_script,
    readings_folder,
    voices_folder,
)
from benchvoice.cli import devices, options
from benchvoice.cli.options import optional_outline
from benchvoice.errors import BadInput
from benchvoice.grammar import load_pack
from benchvoice.hearing import Engine

_HELP = "Read each line aloud at the bench as you would say it there, then pause."


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("--user", required=True, help="whose voice it is")
    devices.device(parser)
    parser.add_argument(
        "--audio", type=Path, metavar="DIR", help="recordings and their script.toml, instead"
    )
    parser.add_argument("--count", type=int, default=20, help=f"remarks to read, {LEAST} or more")
    options.outline(parser, required=False)
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice enrol`."""
    if args.count < LEAST:
        raise BadInput(f"{args.count} remarks are too few", mend=f"read {LEAST} or more")
    pack = load_pack(optional_outline(args))
    shelf = voices_folder()
    if args.audio is not None:
        microphone = "recordings" if args.device is None else devices.microphone_name(args.device)
        readings = read_script(args.audio)
    else:
        microphone = devices.microphone_name(args.device)
        print(_HELP)
        with devices.microphone(args.device) as opened:
            readings = list(read_aloud(opened, sentences_to_read(pack, args.count)))
        keep_readings(readings, readings_folder(shelf, args.user, microphone))

    def engine(voice: Path | None) -> Engine:
        return build_engine(pack, "pocketsphinx", voice=voice)

    enrolled = enrol(readings, pack, engine, _progress)
    folder = keep_voice(shelf, args.user, microphone, enrolled)
    for text in enrolled.left_out:
        print(f'left out, it did not sound like what was to be read: "{text}"')
    print(enrolled.gain.text())
    print(f"Kept in {folder}")
    if enrolled.gain.helped:
        print(f"Use it: benchvoice talk --user {args.user} ...")
    return 0


def read_aloud(microphone: MicrophoneLike, texts: Sequence[str]) -> Iterator[Reading]:
    """Show one text after the other, and take the utterance that comes after each."""
    cutter = Cutter(denoiser=open_denoiser())
    blocks = microphone.blocks()
    for number, text in enumerate(texts, start=1):
        print(f"\n{number} of {len(texts)}:  {text}", flush=True)
        samples = _next_utterance(cutter, blocks)
        if samples is None:
            return
        yield Reading(text, samples)


def _next_utterance(cutter: Cutter, blocks: Iterator[Samples]) -> Samples | None:
    for block in blocks:
        done = cutter.push(block)
        if done:
            return done[-1].samples
    rest = cutter.flush()
    return rest[-1].samples if rest else None


def _progress(text: str) -> None:
    if sys.stderr.isatty():
        print(f"\r{text}   ", end="", file=sys.stderr, flush=True)
