"""Words learnt from corrections: what was heard or typed against what was put in its place."""

from benchvoice.learning.gain import Gain, measure
from benchvoice.learning.own_file import keep, own_file
from benchvoice.learning.pairs import Pair, pairs_of, uncorrected
from benchvoice.learning.propose import Proposal, propose
from benchvoice.learning.taught import taught

__all__ = [
    "Gain",
    "Pair",
    "Proposal",
    "keep",
    "measure",
    "own_file",
    "pairs_of",
    "propose",
    "taught",
    "uncorrected",
]
