"""Words learnt from corrections: what was heard or typed against what was put in its place."""

from benchvoice.learning.by_ear import EarGain, measure_by_ear
from benchvoice.learning.gain import Gain, measure
from benchvoice.learning.keeping import keep
from benchvoice.learning.pairs import Pair, pairs_of, uncorrected
from benchvoice.learning.propose import Proposal, Sounding, propose
from benchvoice.learning.taught import taught

__all__ = [
    "EarGain",
    "Gain",
    "Pair",
    "Proposal",
    "Sounding",
    "keep",
    "measure",
    "measure_by_ear",
    "pairs_of",
    "propose",
    "taught",
    "uncorrected",
]
