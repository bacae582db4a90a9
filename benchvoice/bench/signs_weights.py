"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 441 remarks and 117 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -3.5091
WEIGHTS = Signs(
    own=-3.9364,
    unlikely=0.8045,
    worst=0.5390,
    shortest=-0.4474,
    left_over=1.3740,
)
