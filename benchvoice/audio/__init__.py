"""Recordings and microphones, read as 16 kHz mono blocks and cut into utterances."""

from benchvoice.audio.clips import write_clip
from benchvoice.audio.cutting import CutSettings, Cutter, Utterance, cut
from benchvoice.audio.denoise import Denoiser, DenoiseStream, open_denoiser
from benchvoice.audio.microphone import (
    FileMicrophone,
    Microphone,
    MicrophoneInfo,
    MicrophoneLike,
    list_microphones,
)
from benchvoice.audio.portaudio import quiet_libraries
from benchvoice.audio.reading import read_blocks, recording_seconds
from benchvoice.audio.samples import SAMPLE_RATE, Normaliser, Samples, level_dbfs

__all__ = [
    "SAMPLE_RATE",
    "CutSettings",
    "Cutter",
    "DenoiseStream",
    "Denoiser",
    "FileMicrophone",
    "Microphone",
    "MicrophoneInfo",
    "MicrophoneLike",
    "Normaliser",
    "Samples",
    "Utterance",
    "cut",
    "level_dbfs",
    "list_microphones",
    "open_denoiser",
    "quiet_libraries",
    "read_blocks",
    "recording_seconds",
    "write_clip",
]
