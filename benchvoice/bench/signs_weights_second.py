"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 438 remarks and 391 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -1.0920
WEIGHTS = Signs(
    own=-4.6297,
    unlikely=0.8149,
    worst=0.2679,
    shortest=-0.4997,
    left_over=0.6972,
)
