"""Joining what is believed before with what was measured, and how well the joint figure is known.

Scope: figures that are positive, taken as their logarithms where errors are shares; each with its standard uncertainty.

Symbols: y ± u; τ scatter between flights or sessions beyond their own u.

    joined      1/u² = Σ 1/u_i², y = u² Σ y_i/u_i²                                 precision adds
    scatter     Q = Σ w (y − ȳ)², w = 1/u²; τ² = max(0, (Q − (k − 1))/(Σw − Σw²/Σw))
    flights     each counts with 1/(u² + τ²)

Sources: normal-normal: Gelman et al., Bayesian Data Analysis, 3rd ed., 2.5, from memory. τ: DerSimonian and Laird,
Controlled Clinical Trials 7 (1986) 177, from memory; checked with a published meta-analysis.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

from calc.errors import require

FAR = 3.0  # of its own spread: a flight further off is shown as an outlier; our rule, no source


@dataclass(frozen=True, kw_only=True)
class Known:
    """A figure and its standard uncertainty > 0."""

    value: float
    u: float


def joined(figures: Sequence[Known]) -> Known:
    """Return the joint figure of at least one; each u > 0.

    Examples
    --------
    >>> found = joined([Known(value=0.45, u=0.05), Known(value=0.50, u=0.04)])
    >>> round(found.value, 5), round(found.u, 5)
    (0.48049, 0.03123)
    """
    weights = [1.0 / require("u", each.u, 0.0, above=True) ** 2 for each in figures]
    total = require("figures", sum(weights), 0.0, above=True)
    mean = sum(weight * each.value for weight, each in zip(weights, figures, strict=True)) / total
    return Known(value=mean, u=1.0 / sqrt(total))


def scatter(figures: Sequence[Known]) -> float:
    """Return the scatter τ between figures beyond their own u > 0; 0 for a single one.

    Examples
    --------
    >>> round(scatter([Known(value=0.40, u=0.03), Known(value=0.55, u=0.03), Known(value=0.62, u=0.04)]) ** 2, 6)
    0.011263
    """
    if len(figures) < 2:
        return 0.0
    weights = [1.0 / each.u**2 for each in figures]
    mean, total = joined(figures).value, sum(weights)
    q = sum(weight * (each.value - mean) ** 2 for weight, each in zip(weights, figures, strict=True))
    spare = total - sum(weight * weight for weight in weights) / total
    return sqrt(max(0.0, (q - (len(figures) - 1)) / spare))


def learned(prior: Known | None, figures: Sequence[Known], least_scatter: float = 0.0) -> Known:
    """Return what prior and flights say together, τ at least `least_scatter`; each u > 0.

    Examples
    --------
    >>> found = learned(None, [Known(value=0.40, u=0.03), Known(value=0.55, u=0.03), Known(value=0.62, u=0.04)])
    >>> round(found.value, 5), round(found.u, 5)
    (0.52155, 0.06426)
    """
    between = max(least_scatter, scatter(figures))
    widened = [Known(value=each.value, u=sqrt(each.u**2 + between**2)) for each in figures]
    return joined([*([] if prior is None else [prior]), *widened])


def learned_share(prior: Known | None, figures: Sequence[Known], least_scatter: float = 0.0) -> Known:
    """Return the same for positive figures whose u > 0 are shares of them: joined as logarithms, u again a share.

    Examples
    --------
    >>> found = learned_share(Known(value=27.0, u=0.2), [Known(value=22.77, u=0.04)])
    >>> round(found.value / 27.0, 4), round(found.u, 4)
    (0.8489, 0.0392)
    """
    found = learned(None if prior is None else _log(prior), [_log(each) for each in figures], least_scatter)
    return Known(value=exp(found.value), u=found.u)


def _log(known: Known) -> Known:
    return Known(value=log(require("value", known.value, 0.0, above=True)), u=known.u)


def outliers(figures: Sequence[Known], least_scatter: float = 0.0) -> tuple[int, ...]:
    """Return the numbers of positive figures (u > 0 as shares) that lie far off the others; none of fewer than three.

    They are told, and struck out by nobody but the visitor.

    Examples
    --------
    >>> outliers([Known(value=each, u=0.05) for each in (8.0, 8.2, 7.9, 14.0)])
    (3,)
    """
    if len(figures) < 3:
        return ()
    found = []
    for at, each in enumerate(figures):
        rest = learned_share(None, [*figures[:at], *figures[at + 1 :]], least_scatter)
        own = sqrt(each.u**2 + least_scatter**2 + rest.u**2)
        if abs(log(each.value / rest.value)) > FAR * own:
            found.append(at)
    return tuple(found)
