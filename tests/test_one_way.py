"""Code flows one way: no module imports a stage after its own in the contributor's guide."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
STAGES = ["errors", *re.findall(r"^\| `benchvoice/(\w+)(?:/|\.py)` \|", GUIDE, re.M)]


def stage_of(path: Path) -> str:
    return path.relative_to(ROOT / "benchvoice").parts[0].removesuffix(".py")


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            yield node.module or ""
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


def test_every_folder_is_a_stage_of_the_guide() -> None:
    folders = {path.parent.name for path in (ROOT / "benchvoice").glob("*/__init__.py")}
    assert folders <= set(STAGES), folders - set(STAGES)


def test_no_module_imports_a_stage_after_its_own() -> None:
    # `remark` stands after `grammar` in the table, and both are shared by all that follows.
    after = {
        (path.relative_to(ROOT).as_posix(), name)
        for path in (ROOT / "benchvoice").rglob("*.py")
        if (stage := stage_of(path)) in STAGES
        for name in imported(path)
        if name.startswith("benchvoice.")
        and STAGES.index(name.split(".")[1]) > STAGES.index(stage)
        and name != "benchvoice.remark"
    }
    assert not after
