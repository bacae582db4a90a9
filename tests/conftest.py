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
