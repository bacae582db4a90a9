"""What a command waits for before it begins: only the libraries that it needs."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

import benchvoice

HEAVY = frozenset(
    "hassil jinja2 pocketsphinx prompt_toolkit sounddevice soundfile tomlkit webrtcvad yaml".split()
)
"""Libraries that take 20 to 140 ms of CPU each to import, and that few commands need."""


@pytest.mark.parametrize(
    ("module", "wanted"),
    [
        ("benchvoice.cli.main", set()),
        ("benchvoice.cli.commands.quote", set()),
        ("benchvoice.cli.commands.show", set()),
        ("benchvoice.cli.commands.sheet", set()),
        ("benchvoice.cli.commands.parse", set()),
        ("benchvoice.cli.commands.correct", set()),
        ("benchvoice.cli.commands.talk", {"prompt_toolkit"}),
        ("benchvoice.cli.commands.words", {"tomlkit"}),
    ],
)
def test_a_command_imports_no_library_that_it_may_not_need(module: str, wanted: set[str]) -> None:
    code = f"import sys, {module}; print(*{{name.split('.')[0] for name in sys.modules}})"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert HEAVY.intersection(ran.stdout.split()) == wanted


def test_help_imports_no_command() -> None:
    code = (
        "import sys\nfrom benchvoice.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "print(*sys.modules, file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "a session, readable" in ran.stdout
    assert not [name for name in ran.stderr.split() if name.startswith("benchvoice.cli.commands.")]


def test_the_package_gives_the_very_names_that_it_tells_type_checkers_of() -> None:
    tree = ast.parse(Path(benchvoice.__file__).read_text(encoding="utf-8"))
    (checked,) = (node for node in tree.body if isinstance(node, ast.If))
    told = {
        alias.name: node.module
        for node in checked.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert sorted(told) == sorted(benchvoice.__all__)
    for name, module in told.items():
        assert getattr(benchvoice, name) is getattr(import_module(str(module)), name)
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = benchvoice.nothing


@pytest.mark.parametrize("how", ["", "<&-", "2>&-"])
def test_a_stray_byte_and_a_closed_stream_end_no_command(how: str) -> None:
    """The standard streams as POSIX has them; Python makes None of those that are closed."""
    ran = subprocess.run(
        ["sh", "-c", f'exec "$0" -m benchvoice parse {how}', sys.executable],
        input=b"two bolts off\n\xff\n",
        env={**os.environ, "PYTHONIOENCODING": "utf-8:strict"},
        capture_output=True,
        check=True,
    )
    assert ran.stdout.count(b"\n") == (0 if how == "<&-" else 2)
    assert ran.stderr == b""
