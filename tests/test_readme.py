"""The README's examples are real: each is run and compared with what it shows.

Times of day and numbers that a different numpy may round otherwise are not compared.
"""

from __future__ import annotations

import io
import json
import re
import shlex
import sys
from pathlib import Path

import pytest

from benchvoice.cli import main
from benchvoice.cli.arguments import COMMANDS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
TALKED = (
    "start the oil drain\n"
    "drain plug out, 1 sealing washer replace\n"
    "how many should there be\n"
    "7 cap screws off the first stage cover, tray 2\n"
    "make it 8\n"
)
"""What is typed in the `talk` example."""


def example(start: str) -> tuple[list[str], list[str]]:
    """Give the arguments and the shown lines of the example that begins with `start`."""
    found = re.search(rf"^    \$ benchvoice ({start}.*)\n((?:    .*\n|\n(?=    ))*)", README, re.M)
    assert found, f"no example of {start!r} in the README"
    shown = [line[4:] for line in found[2].splitlines()]
    return shlex.split(found[1]), shown


def run(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, argv: list[str], cwd: Path
) -> list[str]:
    monkeypatch.chdir(cwd)
    monkeypatch.setenv("COLUMNS", "80")
    assert main(argv) == 0
    return capsys.readouterr().out.splitlines()


def timeless(lines: list[str]) -> list[str]:
    return [re.sub(r"\d+:\d\d:\d\d", "h:mm:ss", line) for line in lines]


def test_it_opens_with_the_job_and_has_the_two_commands() -> None:
    title, blank, job, *_ = README.splitlines()
    assert (title, blank) == ("# benchvoice", "")
    assert "rebuilder" in job
    assert len(re.findall(r"^    python3 -m venv ", README, re.M)) == 2


def test_parse(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    argv, shown = example("parse")
    (line,) = run(capsys, monkeypatch, argv, ROOT)
    assert json.loads(line) == json.loads("".join(shown))


def test_talk(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    argv, shown = example("talk")
    monkeypatch.setattr(sys, "stdin", io.StringIO(TALKED))
    assert timeless(run(capsys, monkeypatch, argv, tmp_path)) == timeless(shown)


def test_quote(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    argv, shown = example("quote")
    got = run(capsys, monkeypatch, argv, ROOT)

    def words(line: str) -> str:
        return re.sub(r"[\d.:]+", "#", " ".join(line.split()))

    assert [words(line) for line in shown if line not in ("", "...")] == [
        words(line) for line in got if line and words(line) in map(words, shown)
    ][: len(shown)]


def test_every_command_and_option_that_it_names_is_there(
    capsys: pytest.CaptureFixture[str],
) -> None:
    helps = ""
    for command in (*COMMANDS, "words add", "outline draft"):
        with pytest.raises(SystemExit):
            main([*command.split(), "--help"])
        helps += capsys.readouterr().out
    named = set(re.findall(r"`?benchvoice ([a-z][a-z-]+)\b", README.split("## Two commands")[1]))
    assert {name for name in named if f"`benchvoice {name}" in README} <= set(COMMANDS)
    pages = re.sub(r"^    .*$", "", README, flags=re.M)
    options = set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", pages))
    assert options <= set(re.findall(r"--[a-z][a-z-]+", helps)), options
    assert len(options) > 10
