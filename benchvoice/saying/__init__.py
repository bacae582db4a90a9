"""Talking back: what of an event is said aloud, in words or tones, and by whom."""

from benchvoice.saying.choice import find_voice, open_speaker
from benchvoice.saying.lines import Line, Say, Urgency, lines_of
from benchvoice.saying.pending import Pending
from benchvoice.saying.player import DevicePlayer, FakePlayer, Player
from benchvoice.saying.sound import Sound, tone
from benchvoice.saying.speakable import speakable, unit_words
from benchvoice.saying.speakers import (
    BeepSpeaker,
    FakeSpeaker,
    SilentSpeaker,
    Speaker,
    VoiceSpeaker,
)
from benchvoice.saying.voice import Ties, Voice

__all__ = [
    "BeepSpeaker",
    "DevicePlayer",
    "FakePlayer",
    "FakeSpeaker",
    "Line",
    "Pending",
    "Player",
    "Say",
    "SilentSpeaker",
    "Sound",
    "Speaker",
    "Ties",
    "Urgency",
    "Voice",
    "VoiceSpeaker",
    "find_voice",
    "lines_of",
    "open_speaker",
    "speakable",
    "tone",
    "unit_words",
]
