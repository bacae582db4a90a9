"""A key for what is made once of a large value: the value itself, not what is in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

One = TypeVar("One")


@dataclass(frozen=True, eq=False)
class Same(Generic[One]):
    """A value that is only equal to itself, for one that cannot be hashed by what is in it."""

    one: One

    def __hash__(self) -> int:
        return id(self.one)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and other.one is self.one
