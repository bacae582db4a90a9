"""Vosk models on this machine: found, looked at, loaded, and fetched when it is asked for."""

from __future__ import annotations

import contextlib
import io
import os
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from benchvoice.errors import EngineError

MODEL_VARIABLE = "BENCHVOICE_VOSK_MODEL"
DEFAULT_MODEL = "vosk-model-small-en-us-0.15"
_PREFIXES = ("vosk-model-small-en-us", "vosk-model-en-us")
_MARK = "am/final.mdl"


def find_model(
    given: Path | None = None,
    *,
    environment: Mapping[str, str] = os.environ,
    folders: Iterable[Path] | None = None,
) -> Path | None:
    """Find an English Vosk model: `given`, the variable's, or one in Vosk's own folders.

    In those a small model is preferred, the newest by name, and one that
    takes no sentences is passed over.  None when there is none.  Raises
    EngineError when `given` or the variable names something else than a model.
    """
    named = given or (
        Path(environment[MODEL_VARIABLE]) if environment.get(MODEL_VARIABLE) else None
    )
    if named is not None:
        whose = "given" if given else f"named in {MODEL_VARIABLE}"
        if not is_model(named):
            raise _no_model(f"the Vosk model {whose}", named)
        return named
    searched = list(folders) if folders is not None else _vosk_folders()
    for prefix in _PREFIXES:
        for folder in searched:
            found = sorted(
                path
                for path in folder.glob(f"{prefix}*")
                if is_model(path) and takes_sentences(path)
            )
            if found:
                return found[-1]
    return None


def is_model(folder: Path) -> bool:
    """Whether a folder holds a Vosk model (the old layout has its files at the top)."""
    return (folder / _MARK).is_file() or (folder / "final.mdl").is_file()


def takes_sentences(folder: Path) -> bool:
    """Whether a model can be taught sentences.

    One with its words and language built into one graph cannot; Vosk then
    hears ordinary talk instead, and says nothing.
    """
    graph = folder / "graph" if (folder / _MARK).is_file() else folder
    return not (graph / "HCLG.fst").is_file()


def load_model(path: Path) -> Any:
    """Load the model in a folder.  Raises EngineError when it or Vosk cannot be used."""
    vosk = _package()
    if not is_model(path):
        raise _no_model("the Vosk model", path)
    if not takes_sentences(path):
        raise EngineError(
            "this Vosk model cannot be taught sentences",
            mend="use a small one, or one with a dynamic graph (lgraph)",
            file=path,
        )
    try:
        return vosk.Model(str(path))
    except Exception as error:  # what the package raises
        raise EngineError(
            f"the Vosk model cannot be loaded ({error})", mend="unpack it again", file=path
        ) from None


def fetch_model(name: str = DEFAULT_MODEL) -> Path:
    """Fetch a model with Vosk's own downloader into Vosk's own folder; give where it is.

    Raises EngineError when there is no network or no such model, or when
    what is there already is no whole model.
    """
    vosk = _package()
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            found = Path(_fetcher(vosk).get_model_path(name, None))
    except SystemExit:
        raise EngineError(f'Vosk knows no model "{name}"', mend="check its name") from None
    except (OSError, ValueError, zipfile.BadZipFile) as error:
        raise EngineError(
            f"the Vosk model could not be fetched ({type(error).__name__}: no network?)",
            mend=f"unpack it by hand and set {MODEL_VARIABLE} to its folder",
        ) from None
    if not is_model(found):
        raise EngineError(
            "what Vosk has under this name is no whole model",
            mend="delete it and fetch it again",
            file=found,
        )
    return found


def _no_model(what: str, path: Path) -> EngineError:
    """Say what is wrong with a path that is no model, and how to mend it."""
    mend = f"give the folder that has {_MARK} in it"
    if not path.exists():
        return EngineError(f"{what} is not there", mend=mend, file=path)
    if zipfile.is_zipfile(path):
        return EngineError(
            f"{what} is still packed", mend="unpack it and give the folder it makes", file=path
        )
    if not path.is_dir():
        return EngineError(f"{what} is a file, not a model folder", mend=mend, file=path)
    inside = next((one for one in sorted(path.iterdir()) if is_model(one)), None)
    if inside is not None:
        mend = f"give {inside}"
    return EngineError(f"{what} is not a model folder", mend=mend, file=path)


def _fetcher(vosk: Any) -> Any:
    """Give Vosk's downloader without the model that its class loads and frees."""

    class Fetcher(vosk.Model):  # type: ignore[misc]
        def __init__(self) -> None:
            pass

        def __del__(self) -> None:
            pass

    return Fetcher()


def _vosk_folders() -> list[Path]:
    try:
        import vosk
    except Exception:
        return []
    return [Path(folder) for folder in vosk.MODEL_DIRS if folder]


def _package() -> Any:
    try:
        import vosk
    except (ImportError, OSError) as error:
        raise EngineError(
            f"Vosk cannot be loaded ({error})", mend="install the package vosk"
        ) from None
    vosk.SetLogLevel(-3)  # errors too: what they say is raised in one line of our own
    return vosk
