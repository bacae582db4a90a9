"""What makes every HTML page: Jinja2 with autoescape; a name that is not there is an error."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment


def page_environment(package: str, folder: str) -> Environment:
    """Give the environment of the templates in a `folder` of a `package`."""
    from jinja2 import Environment, PackageLoader, StrictUndefined  # late: only pages need it

    return Environment(
        loader=PackageLoader(package, folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
