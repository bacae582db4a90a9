"""Nothing goes out: every command but fetch-model works where no socket can be opened.

The interpreter itself is the reference: an audit hook (PEP 578) sees each socket that Python code
opens or connects, and each name that is looked up, and ends the process there.  Sockets within the
machine (AF_UNIX), with which Python's event loop wakes itself, are let through.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
GUARDED = """
import os, sys
def guard(name, args):
    inside = name == "socket.__new__" and args[1] == 1  # AF_UNIX: never leaves the machine
    if name.startswith("socket.") and not inside:
        os.write(2, f"NETWORK {name} {args}\\n".encode())
        os._exit(99)
sys.addaudithook(guard)
from benchvoice.cli import main
sys.exit(max(main(command.split("|")) for command in sys.argv[1:]))
"""


def guarded(*commands: Sequence[object], text: str = "") -> subprocess.CompletedProcess[str]:
    """Run commands one after the other in a process that may open no socket."""
    argv = ["|".join(map(str, command)) for command in commands]
    return subprocess.run(
        [sys.executable, "-c", GUARDED, *argv],
        input=text,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session made by the guarded live bench itself."""
    folder = tmp_path_factory.mktemp("net") / "job"
    text = "eight bolts off the front cover\none seal cracked\nquit\n"
    talk = ("talk", "--keyboard", "--outline", "reversing_gearbox", "--session", folder)
    done = guarded(talk, text=text)
    assert (done.returncode, done.stderr) == (0, "")
    return folder


def test_correcting_opens_no_socket(job: Path) -> None:
    typed = """from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput
sys.stdin.isatty = sys.stdout.isatty = lambda: True
with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
    pipe.send_text("duq")
    sys.exit(main(["correct", sys.argv[1]]))"""
    code = GUARDED[: GUARDED.rindex("sys.exit")] + typed
    done = subprocess.run(
        [sys.executable, "-c", code, str(job)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert done.returncode == 0, done.stderr
    records = (job / "session.jsonl").read_text(encoding="utf-8")
    assert records.count('"record":"amendment"') == 2


def test_the_guard_sees_the_network() -> None:
    code = GUARDED.replace("from benchvoice.cli import main", "import socket; socket.socket()")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert done.returncode == 99


def test_reading_commands_open_no_socket(job: Path) -> None:
    done = guarded(
        ("show", job),
        ("show", job, "--history"),
        ("check", job),
        ("parse", "two bolts off", "--outline", "reversing_gearbox"),
    )
    assert done.returncode == 0, done.stderr


def test_sheets_outlines_words_and_learning_open_no_socket(job: Path, tmp_path: Path) -> None:
    page = tmp_path / "teardown.html"
    done = guarded(
        ("sheet", job, "--kind", "teardown", "--out", page),
        ("sheet", job, "--kind", "parts", "--format", "csv"),
        ("outline", "check", "reversing_gearbox"),
        ("outline", "draft", job),
        ("words", "list"),
        ("learn", job, "--list"),
    )
    assert done.returncode == 0, done.stderr
    assert page.exists()


@pytest.mark.slow
def test_replay_and_quote_open_no_socket(tmp_path: Path) -> None:
    outline = ("--outline", "reversing_gearbox")
    terms, past = tmp_path / "terms.toml", ROOT / "demo_sessions" / "history"
    terms.write_text('rate = "95"\ncurrency = "EUR"\n', encoding="utf-8")
    audio = ROOT / "tests" / "recordings" / "bench_flite.flac"
    done = guarded(
        ("replay", audio, *outline, "--session", tmp_path / "job", "--engine", "pocketsphinx"),
        ("quote", *outline, past, "--rate", "95"),
        ("quote", *outline, past, "--terms", terms, "--format", "html"),
    )
    assert done.returncode == 0, done.stderr
