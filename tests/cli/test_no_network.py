"""Nothing goes out: every command but fetch-model works where no socket can be opened.

Live audio: tests/bench/test_sound_server.py.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
import soundfile

ROOT = Path(__file__).parents[2]
RECORDINGS = ROOT / "tests" / "recordings"
COMMANDS = """
import sys
from benchvoice.cli import main
sys.exit(max(main(command.split("|")) for command in sys.argv[1:]))
"""
Guarded = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture(scope="module")
def guarded(no_network: dict[str, str]) -> Guarded:
    """Run commands one after the other in a process that may open no socket."""

    def run(
        *commands: Sequence[object], text: str = "", code: str = COMMANDS, **also: str
    ) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-c", code, *("|".join(map(str, one)) for one in commands)],
            input=text,
            capture_output=True,
            text=True,
            check=False,
            env={**os.environ, **no_network, **also},
        )

    return run


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory, guarded: Guarded) -> Path:
    """A session made by the guarded live bench itself."""
    folder = tmp_path_factory.mktemp("net") / "job"
    text = "eight bolts off the front cover\none seal cracked\nquit\n"
    talk = ("talk", "--keyboard", "--outline", "reversing_gearbox", "--session", folder)
    done = guarded(talk, text=text)
    assert (done.returncode, done.stderr) == (0, "")
    return folder


def test_the_guard_sees_the_network(guarded: Guarded) -> None:
    assert guarded(code="import socket; socket.socket()").returncode == 99


def test_correcting_opens_no_socket(job: Path, guarded: Guarded) -> None:
    typed = """import sys
from benchvoice.cli import main
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput
sys.stdin.isatty = sys.stdout.isatty = lambda: True
with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
    pipe.send_text("duq")
    sys.exit(main(["correct", sys.argv[1]]))"""
    done = guarded((job,), code=typed)
    assert done.returncode == 0, done.stderr
    records = (job / "session.jsonl").read_text(encoding="utf-8")
    assert records.count('"record":"amendment"') == 2


def test_reading_commands_open_no_socket(job: Path, guarded: Guarded) -> None:
    done = guarded(
        ("show", job),
        ("show", job, "--history"),
        ("check", job),
        ("parse", "two bolts off", "--outline", "reversing_gearbox"),
    )
    assert done.returncode == 0, done.stderr


def test_sheets_outlines_words_and_learning_open_no_socket(
    job: Path, guarded: Guarded, tmp_path: Path
) -> None:
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
def test_replay_and_quote_open_no_socket(guarded: Guarded, tmp_path: Path) -> None:
    outline = ("--outline", "reversing_gearbox")
    terms, past = tmp_path / "terms.toml", ROOT / "demo_sessions" / "history"
    terms.write_text('rate = "95"\ncurrency = "EUR"\n', encoding="utf-8")
    audio = RECORDINGS / "bench_flite.flac"
    done = guarded(
        ("replay", audio, *outline, "--session", tmp_path / "job", "--engine", "pocketsphinx"),
        ("quote", *outline, past, "--rate", "95"),
        ("quote", *outline, past, "--terms", terms, "--format", "html"),
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.slow
def test_enrolling_opens_no_socket(guarded: Guarded, tmp_path: Path, engine_cache: Path) -> None:
    script = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))
    lines = []
    for name in ("bench_piper", "bench_flite"):  # more than are needed: one may be misheard
        whole, rate = soundfile.read(RECORDINGS / f"{name}.flac", dtype="int16")
        for number, one in enumerate(script[name]):
            start, end = round((one["start"] - 0.3) * rate), round((one["end"] + 0.15) * rate)
            soundfile.write(tmp_path / f"{name}_{number}.wav", whole[start:end], rate)
            lines.append(f'"{name}_{number}.wav" = "{one["text"]}"')
    (tmp_path / "script.toml").write_text("\n".join(lines), encoding="utf-8")
    done = guarded(
        ("enrol", "--user", "tester", "--audio", tmp_path),
        XDG_DATA_HOME=str(tmp_path / "data"),
        XDG_CACHE_HOME=str(engine_cache),
    )
    assert done.returncode == 0, done.stderr
    assert list(tmp_path.glob("data/**/voice.json"))
