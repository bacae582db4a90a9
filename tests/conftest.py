"""In CI nothing may skip for want of a system part or the speech extra (BENCHVOICE_NO_SKIPS=1).

There the generated examples are the same each time, so that a change is judged by itself; elsewhere
they are new with each run.
"""

from __future__ import annotations

import os
from collections.abc import Generator
from pathlib import Path
from typing import Any

import hypothesis
import pytest

hypothesis.settings.register_profile("same", derandomize=True)
if os.environ.get("BENCHVOICE_NO_SKIPS"):
    hypothesis.settings.load_profile("same")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[Any]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    if report.skipped and os.environ.get("BENCHVOICE_NO_SKIPS"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"skipped where nothing may skip: {reason}"
    return report


@pytest.fixture(scope="session")
def engine_cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A cache of language models for all tests: one takes long to make and is always the same."""
    return tmp_path_factory.mktemp("engines")


_GUARD = """import os, sys
def guard(name, args):
    inside = name == "socket.__new__" and args[1] == 1  # AF_UNIX: never leaves the machine
    if name.startswith("socket.") and not inside:
        os.write(2, f"NETWORK {name} {args}\\n".encode())
        os._exit(99)
sys.addaudithook(guard)
"""


@pytest.fixture(scope="session")
def no_network(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """What the environment of a Python process has besides, so that it ends at the first socket.

    The interpreter itself is the reference: an audit hook (PEP 578) sees each socket that Python
    code opens or connects, and each name that is looked up.  Sockets within the machine (AF_UNIX),
    with which Python's event loop wakes itself, are let through.
    """
    folder = tmp_path_factory.mktemp("guard")
    (folder / "sitecustomize.py").write_text(_GUARD, encoding="utf-8")
    return {"PYTHONPATH": os.pathsep.join((str(folder), str(Path(__file__).parents[1])))}
