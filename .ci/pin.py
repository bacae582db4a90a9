"""Print every package that all extras need, each with its version and hash.

    python .ci/pin.py > .ci/requirements.txt

For the platform and the Python that it is run with; pip chooses, nothing is installed.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
HEAD = """\
# What .ci/run may install, pinned by hash: Linux on x86-64, CPython 3.11, all extras.
# Install:  pip install --require-hashes -r .ci/requirements.txt && pip install --no-deps -e .
# Renew:    python .ci/pin.py > .ci/requirements.txt
"""


def main() -> None:
    """Print the file."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = ",".join(sorted(project["optional-dependencies"]))
    asked = [sys.executable, "-m", "pip", "install", "-q", "--dry-run", "--ignore-installed"]
    done = subprocess.run(
        [*asked, "--report", "-", f"{ROOT}[{extras}]"],
        stdout=subprocess.PIPE,
        check=True,
        text=True,
    )
    print(HEAD, end="")
    for line in sorted(filter(None, map(pinned, json.loads(done.stdout)["install"]))):
        print(line)


def pinned(package: dict[str, dict[str, object]]) -> str | None:
    """Give the line of one package; None for benchvoice itself."""
    metadata, archive = package["metadata"], package["download_info"].get("archive_info", {})
    name = re.sub(r"[-_.]+", "-", str(metadata["name"])).lower()
    if name == "benchvoice":
        return None
    assert isinstance(archive, dict)
    return f"{name}=={metadata['version']} --hash=sha256:{archive['hashes']['sha256']}"


if __name__ == "__main__":
    main()
