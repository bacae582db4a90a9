"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 441 remarks and 198 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -3.6702
WEIGHTS = Signs(
    own=-4.3551,
    unlikely=0.8796,
    worst=0.4733,
    shortest=-0.3694,
    left_over=0.9104,
)
