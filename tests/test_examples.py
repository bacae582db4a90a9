"""The examples in docstrings say what the code does."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
WITH_EXAMPLES = [
    ".".join(path.relative_to(ROOT).with_suffix("").parts)
    for path in sorted((ROOT / "benchvoice").rglob("*.py"))
    if ">>> " in path.read_text(encoding="utf-8")
]


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_an_example_gives_what_it_says(name: str) -> None:
    result = doctest.testmod(import_module(name))
    assert result.attempted
    assert not result.failed
