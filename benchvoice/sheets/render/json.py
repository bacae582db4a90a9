"""A sheet as JSON: the value itself.

The object has `schema` and then the fields of the sheet's value (see
`TeardownSheet`, `PartsSheet`, `ReassemblySheet` and `HardwareSheet`), which are
documented there.  All fields are always there; what is not known is null or
empty.  Fields may be added; none changes its meaning while `schema` is 1.
"""

from __future__ import annotations

import json

import msgspec

from benchvoice.sheets.kinds import Sheet

SCHEMA = 1
"""The number of the format of a sheet's JSON."""


def json_of(sheet: Sheet) -> str:
    """Give one JSON object, indented, ending in a line end."""
    fields = msgspec.to_builtins(sheet)
    return json.dumps({"schema": SCHEMA, **fields}, indent=1, ensure_ascii=False) + "\n"
