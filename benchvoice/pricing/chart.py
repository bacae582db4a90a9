"""The time of each step with its range, drawn as SVG by matplotlib (the `chart` extra)."""

from __future__ import annotations

import io

from benchvoice.quoting.quote import Quote

_INCHES_A_STEP = 0.24


def chart_svg(quote: Quote) -> str | None:
    """Draw P10 to P90 of each step as a bar with its P50 marked; None without matplotlib.

    Black on white, without a date in it, so that the same quote gives the same file.
    """
    try:
        from matplotlib import rc_context
        from matplotlib.backends.backend_svg import FigureCanvasSVG
        from matplotlib.figure import Figure
    except ImportError:
        return None
    with rc_context({"svg.hashsalt": "benchvoice", "svg.fonttype": "none", "font.size": 8}):
        figure = Figure(figsize=(7.2, 1.0 + _INCHES_A_STEP * len(quote.steps)))
        FigureCanvasSVG(figure)
        axes = figure.add_subplot()
        for row, step in enumerate(quote.steps):
            given = step.range
            axes.plot([given.p10, given.p90], [row, row], color="black", linewidth=1)
            axes.plot([given.p50, given.p80], [row, row], color="black", linewidth=5)
            axes.plot([given.p50], [row], "|", color="black", markersize=11, markeredgewidth=2)
        axes.set_yticks(range(len(quote.steps)), [step.title for step in quote.steps])
        axes.set_ylim(len(quote.steps) - 0.4, -0.6)
        axes.set_xlim(left=0)
        axes.set_xlabel("minutes: thin line P10 to P90, thick P50 to P80")
        axes.grid(axis="x", color="0.85")
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        figure.tight_layout()
        file = io.StringIO()
        figure.savefig(file, format="svg", metadata={"Date": None, "Creator": None})
    text = file.getvalue()
    return text[text.index("<svg") :]
