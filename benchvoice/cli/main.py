"""Entry point: exit code 0 fine, 2 bad input, 1 our own failure."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence
from errno import ENOSPC
from io import TextIOWrapper
from pathlib import Path

from benchvoice.cli.arguments import parse_arguments
from benchvoice.errors import BadInput

_TRACE = "BENCHVOICE_TRACE"


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code."""
    _mend_streams()
    try:
        args = parse_arguments(argv)
        code: int = args.run(args)
        sys.stdout.flush()
        return code
    except BadInput as error:
        print(f"benchvoice: {error}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("benchvoice: stopped; all that was shown is kept", file=sys.stderr)
        return 130
    except BrokenPipeError:
        # the reader of our output went away (as `head` does): not a failure of ours
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        if error.filename is None and error.errno != ENOSPC:
            return _own_fault(error)
        where = error.filename or "the output"  # a folder not to be entered, a name too long
        what = f"{where}: cannot be used ({error.strerror})"
        print(f"benchvoice: {what}; check the path, permissions and space", file=sys.stderr)
        return 2
    except Exception as error:
        return _own_fault(error)


def _mend_streams() -> None:
    """Have all three streams, and none that fails over a byte or letter that it does not know."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, Path(os.devnull).open(mode))  # noqa: SIM115 (it stays open)
        elif isinstance(stream, TextIOWrapper) and stream.errors == "strict":
            stream.reconfigure(errors="replace")


def _own_fault(error: Exception) -> int:
    if os.environ.get(_TRACE):
        traceback.print_exception(error)
    reason = " ".join(str(error).split()) or "no reason given"
    print(
        f"benchvoice: a fault of benchvoice itself: {type(error).__name__}: {reason}; "
        f"set {_TRACE}=1 and run it again to see where",
        file=sys.stderr,
    )
    return 1
