"""The user's price list: a CSV file with a line a part."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path

from benchvoice.errors import BadInput

COLUMNS = ("part", "price", "place", "size", "work", "note")
"""`part` and `price` have to be there.  A row with a `place` or `size` is for that one only; `work`
says what the price is for ("machine", "send out"), a new part when it is empty."""


@dataclass(frozen=True, kw_only=True)
class ListPrice:
    """One row: the price of one piece, or of one piece of `work` on it."""

    part: str
    price: Decimal
    place: str = ""
    size: str = ""
    work: str = ""
    note: str = ""


@dataclass(frozen=True)
class PriceList:
    """Prices looked up by part, the row that says most first."""

    rows: tuple[ListPrice, ...] = ()

    def find(self, part: str, *, place: str = "", size: str = "", work: str = "") -> Decimal | None:
        """Give the price of one; None when the list has none that fits.

        A row fits when each of its place and size is empty or the same.
        """
        fitting = [
            row
            for row in self.rows
            if (row.part, row.work) == (_key(part), _key(work))
            and row.place in ("", _key(place))
            and row.size in ("", _key(size))
        ]
        best = max(fitting, key=lambda row: (bool(row.size), bool(row.place)), default=None)
        return None if best is None else best.price


def load_prices(path: Path) -> PriceList:
    """Read a price list (UTF-8, comma or semicolon, RFC 4180 quoting).

    Raises BadInput with file, line and mend.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise BadInput.unreadable(path, error) from None
    except UnicodeDecodeError:
        raise BadInput("is not UTF-8 text", mend="save it as CSV UTF-8", file=path) from None
    return PriceList(tuple(_rows(text, path)))


def _rows(text: str, path: Path) -> Iterable[ListPrice]:
    first = text.partition("\n")[0]
    reader = csv.DictReader(io.StringIO(text), delimiter=";" if ";" in first else ",")
    seen: dict[tuple[str, ...], int] = {}
    try:
        names = [_key(name or "") for name in reader.fieldnames or ()]
        reader.fieldnames = names
        for needed in ("part", "price"):
            if needed not in names:
                raise BadInput(
                    f"has no column {needed!r}",
                    mend=f"begin with a line that names the columns: {','.join(COLUMNS)}",
                    file=path,
                    line=1,
                )
        for row in reader:
            if any((value or "").strip() for value in row.values() if isinstance(value, str)):
                found = _row(row, path, reader.line_num)
                key = (found.part, found.place, found.size, found.work)
                if key in seen:
                    what = f"{found.part!r} has a price already, on line {seen[key]}"
                    mend = "take one of the two out, or give them different places or sizes"
                    raise BadInput(what, mend=mend, file=path, line=reader.line_num)
                seen[key] = reader.line_num
                yield found
    except csv.Error as error:
        raise BadInput(
            f"is no CSV ({error})", mend="save it as CSV", file=path, line=reader.line_num or 1
        ) from None


def _row(row: Mapping[str, str | None], path: Path, line: int) -> ListPrice:
    cells = {name: (row.get(name) or "").strip() for name in COLUMNS}
    if not cells["part"]:
        raise BadInput("a row has no part", mend="name it", file=path, line=line)
    try:
        price = Decimal(cells["price"])
    except InvalidOperation:
        price = Decimal("NaN")
    if not price.is_finite() or not 0 <= price < 10**9:
        raise BadInput(
            f"{cells['price']!r} is no price", mend="write 12 or 12.50", file=path, line=line
        )
    keys = {name: _key(cells[name]) for name in ("part", "place", "size", "work")}
    return ListPrice(price=price, note=cells["note"], **keys)


def _key(text: str) -> str:
    return " ".join(text.lower().split())
