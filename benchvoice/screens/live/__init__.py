"""The bench as it is worked: an immutable view, its drawing, and the application."""

from benchvoice.screens.live.app import LiveScreen, live_app
from benchvoice.screens.live.draw import draw
from benchvoice.screens.live.view import Ear, View

__all__ = ["Ear", "LiveScreen", "View", "draw", "live_app"]
