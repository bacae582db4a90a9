"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 290 remarks and 318 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -4.5256
WEIGHTS = Signs(
    own=-2.4701,
    unlikely=0.4125,
    worst=0.2920,
    shortest=0.0029,
    left_over=2.2288,
    apart=0.3280,
)
