"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 289 remarks and 229 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -5.9355
WEIGHTS = Signs(
    own=-2.5206,
    unlikely=0.5105,
    worst=0.2859,
    shortest=0.0328,
    left_over=1.6932,
    apart=0.4611,
    thin=2.0197,
)
