"""Whatever is read from outside, taken as the user would give it: an answer, or one clear line.

Each target takes anything; it gives the error's line, or None when the input was good.  Any other
exception is a fault of benchvoice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import islice
from pathlib import Path

from benchvoice.audio import Cutter, read_blocks, recording_seconds
from benchvoice.bench.ears import Ears
from benchvoice.errors import BadInput
from benchvoice.follow import State, advance
from benchvoice.grammar import load_outline, load_pack
from benchvoice.grammar.generate import sentences
from benchvoice.remark import remark_from_json, remark_to_json
from benchvoice.session import inspect, labour, read_session, repair
from benchvoice.sheets import history_text, session_text

REMARKS = ("two bolts off the front cover one cracked", "next", "end play twelve thou", "how many")

NASTY = (
    '""', '"a"', "0", "-1", "1e308", "-0.0", "nan", "inf", "-inf", "9" * 30, "true", "[]", "{}",
    "[[]]", '["", ""]', "2024-01-01", '"\\u0000"', '"\\u202e\\U0001f529"', '"' + "x" * 5000 + '"',
    '"{part}"', '"(a|b)"', '"<name>"', '["(", ")"]', "{ part = \"bolt\" }", "[1, 2, 3]", '"M6x"',
    '"1/0"', '"0/0 in"', '"-3 mm"', "'''\n'''", "",
)  # fmt: skip
"""Values to put where others stand in a TOML file."""


def one_line(check: Callable[[], object]) -> str | None:
    """Run `check`; what the user would be told, which must be one printable line."""
    try:
        check()
    except BadInput as error:
        text = str(error)
        assert text, repr(error)
        assert "\n" not in text
        return text
    return None


def outline(content: bytes, folder: Path) -> str | None:
    """An outline file: loaded, taught to the parser, followed, and shown."""
    path = folder / "own.toml"
    path.write_bytes(content)

    def check() -> None:
        found = load_outline(path)
        pack = load_pack(found)
        assert all(sentence.words for sentence in islice(sentences(pack, count=50), 50))
        _talk(Ears(pack, None))

    return one_line(check)


def vocabulary(content: bytes, folder: Path) -> str | None:
    """A vocabulary file of the user's."""
    path = folder / "own.toml"
    path.write_bytes(content)
    return one_line(lambda: _talk(Ears(load_pack(None, [path]), None)))


def _talk(ears: Ears) -> None:
    state = State()
    for at, text in enumerate(REMARKS):
        state, _ = advance(state, ears.read(text), ears.pack, float(at))


def journal(content: bytes, folder: Path) -> str | None:
    """A journal: read, shown, timed, looked through and mended."""
    path = folder / "session.jsonl"
    path.write_bytes(content)

    def check() -> None:
        session = read_session(folder)
        assert session_text(session).isascii()
        assert history_text(session).isascii()
        assert all(minutes >= 0 for minutes in labour(session).steps.values())
        assert inspect(folder).session == session
        mended = repair(folder)
        assert (mended is None) == (not session.damage)
        if mended is not None:
            again = read_session(mended.journal)
            assert again.entries == session.entries
            assert again.damage == ()
            mended.journal.unlink()
            mended.damaged.unlink()
        assert path.read_bytes() == content

    return one_line(check)


def remark(text: str, ears: Ears, state: State) -> str | None:
    """A typed line: understood, followed, and written as JSON and back."""

    def check() -> None:
        read = ears.read(text)
        assert remark_from_json(remark_to_json(read)) == read
        advance(state, read, ears.pack, 1.0)

    return one_line(check)


def audio(content: bytes, folder: Path) -> str | None:
    """A recording: its length, and its utterances."""
    path = folder / "own.wav"
    path.write_bytes(content)

    def check() -> None:
        recording_seconds(path)
        cutter = Cutter()
        for block in read_blocks(path):
            assert block.dtype == "int16"
            cutter.push(block)
        cutter.flush()

    return one_line(check)


def replaced(lines: Sequence[bytes], at: int, value: str) -> bytes:
    """Put `value` behind the "=" of line `at`, or in its place when it has none."""
    changed = list(lines)
    key, equals, _ = changed[at].partition(b"=")
    changed[at] = key + equals + value.encode() if equals else value.encode()
    return b"\n".join(changed)
