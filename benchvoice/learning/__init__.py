"""Words learnt from corrections: what was heard or typed against what was put in its place."""

from benchvoice.learning.gain import Gain, measure
from benchvoice.learning.keeping import keep
from benchvoice.learning.pairs import Pair, pairs_of, uncorrected
from benchvoice.learning.propose import Proposal, propose
from benchvoice.learning.taught import taught

__all__ = [
    "Gain",
    "Pair",
    "Proposal",
    "keep",
    "measure",
    "pairs_of",
    "propose",
    "taught",
    "uncorrected",
]
