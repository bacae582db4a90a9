"""How the screens look: bold and reverse first, so that nothing is lost without colour."""

from __future__ import annotations

import os
from collections.abc import Mapping

from prompt_toolkit.output import ColorDepth
from prompt_toolkit.styles import Style

_PLAIN = {
    "title": "reverse bold",
    "cursor": "reverse",
    "rule": "",
    "strong": "bold",
    "warn": "bold",
    "alarm": "reverse bold",
    "doubt": "underline",
    "struck": "",
    "ok": "",
    "key": "bold",
    "dim": "",
    "label": "bold",
    "meter": "",
}
_COLOURED = {
    **_PLAIN,
    "rule": "ansibrightblack",
    "warn": "bold ansired",
    "alarm": "reverse bold ansired",
    "doubt": "ansiyellow underline",
    "struck": "ansibrightblack",
    "ok": "ansigreen",
    "dim": "ansibrightblack",
    "meter": "ansigreen",
}


def colourless(environment: Mapping[str, str] | None = None) -> bool:
    """Whether the user wants no colour: NO_COLOR is set to anything (https://no-color.org)."""
    return bool((os.environ if environment is None else environment).get("NO_COLOR"))


def screen_style(*, colour: bool) -> Style:
    """Give the style of the screens; without colour only bold, underline and reverse."""
    return Style.from_dict(_COLOURED if colour else _PLAIN)


def colour_depth(*, colour: bool) -> ColorDepth | None:
    """Give the colour depth for an application; None lets the terminal decide."""
    return None if colour else ColorDepth.DEPTH_1_BIT
