"""The corrections editor: an immutable document, a controller that changes it, and its drawing."""

from benchvoice.screens.editor.app import editor_app
from benchvoice.screens.editor.controller import Editor
from benchvoice.screens.editor.document import Document, Listing, Sieve
from benchvoice.screens.editor.draw import draw
from benchvoice.screens.editor.facts import Facts
from benchvoice.screens.editor.reading import Reader

__all__ = ["Document", "Editor", "Facts", "Listing", "Reader", "Sieve", "draw", "editor_app"]
