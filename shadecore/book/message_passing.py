"""Normal effects behind statements about whole numbers, by expectation propagation."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

Array = NDArray[np.float64]

_NODES: Final = np.linspace(-5.0, 5.0, 61)
"""Where a normal distribution is summed up, in standard deviations."""
_WEIGHTS: Final = np.exp(-0.5 * _NODES**2) / np.exp(-0.5 * _NODES**2).sum()
_MOST_ROUNDS: Final = 100
_STEP: Final = 0.6
"""Part of each correction that is made at once; all of it can swing to and fro."""
_CALMER: Final = 30
"""Rounds after which half of that part is made."""
_STILL: Final = 1e-4
"""Change of every effect at which the rounds end, in standard deviations."""
_LEAST: Final = 1e-300
_LEAST_PRECISION: Final = 1e-2
"""Of a quantity of which nothing is known; wider than any that is asked for."""
_WIDEST: Final = 0.9
"""Part of what is known of a group that its statements may take away together."""
_LARGEST_LOG: Final = 50.0
"""Beyond it a number of coats is without end."""


@dataclass(frozen=True)
class Effects:
    """A quantity of each statement: an offset less some effects, plus its group's own.

    Attributes
    ----------
    design : array, shape (statements, effects)
        1 where an effect is part of the quantity, else 0.
    variance : array, shape (effects,)
        Of each effect, about zero.
    group : array of int, shape (statements,)
        Which group each belongs to.
    group_variance : array, shape (groups,)
        Of what each group adds, about zero.
    offset : array, shape (statements,)
        What is expected without any effect.
    """

    design: Array
    variance: Array
    group: NDArray[np.intp]
    group_variance: Array
    offset: Array


@dataclass(frozen=True)
class Statements:
    """That the exponential of each quantity lies between two numbers.

    Attributes
    ----------
    low, high : array, shape (statements,)
        The numbers; infinite where a side is open.
    error : array, shape (statements,)
        Standard deviation of the statement about the truth.
    error_share : float
        Part of the truth that comes to it.
    wrong : array, shape (statements,)
        Chance that it has nothing to do with the truth.
    if_wrong : array, shape (statements,)
        Chance that it would then be made.
    """

    low: Array
    high: Array
    error: Array
    error_share: float
    wrong: Array
    if_wrong: Array

    def likelihood(self, quantity: Array) -> tuple[Array, Array]:
        """Chance of each statement, right and wrong together and wrong alone.

        Parameters
        ----------
        quantity : array, shape (statements, n)
            Values of each quantity.

        Returns
        -------
        both : array, shape (statements, n)
        wrong : array, shape (statements, 1)
        """
        number = np.exp(np.minimum(quantity, _LARGEST_LOG))
        error = np.hypot(self.error[:, None], self.error_share * number)
        right = ndtr((self.high[:, None] - number) / error) - ndtr(
            (self.low[:, None] - number) / error
        )
        wrong = (self.wrong * self.if_wrong)[:, None]
        return (1.0 - self.wrong[:, None]) * right + wrong, wrong


@dataclass(frozen=True)
class Inferred:
    """What the statements say of the effects.

    Attributes
    ----------
    mean : array, shape (effects,)
    covariance : array, shape (effects, effects)
    wrong : array, shape (statements,)
        Chance of each statement to be wrong.
    """

    mean: Array
    covariance: Array
    wrong: Array


@dataclass(frozen=True)
class _Posterior:
    mean: Array
    covariance: Array
    own: Array
    quantity_mean: Array
    quantity_variance: Array

    @property
    def sound(self) -> bool:
        """Whether it is a distribution."""
        return bool(
            self.own.min() > 0.0
            and self.quantity_variance.min() > 0.0
            and np.linalg.eigvalsh(self.covariance)[0] > 0.0
        )


def infer(effects: Effects, statements: Statements) -> Inferred:
    """Join normal effects with statements.

    Each statement is stood in for by a normal one that does the same to the mean and
    the variance of its quantity, and these are mended in turn until none changes.

    Parameters
    ----------
    effects : Effects
        At least one statement's.
    statements : Statements
        As many.

    Returns
    -------
    Inferred
    """
    size = np.bincount(effects.group)
    floor = -_WIDEST / (effects.group_variance * size)[effects.group]
    precision = np.zeros(effects.offset.size)
    pull = np.zeros(effects.offset.size)
    now = _posterior(effects, precision, pull)
    for each in range(_MOST_ROUNDS):
        step = _STEP / (1.0 + each / _CALMER)
        rest_mean, rest_variance = _without(now, precision, pull)
        mean, variance, _wrong = _moments(rest_mean, rest_variance, statements)
        # A statement that may be wrong can widen its quantity, which takes a negative
        # precision.
        wanted = np.maximum(1.0 / variance - 1.0 / rest_variance, floor)
        wanted_pull = mean * (wanted + 1.0 / rest_variance) - rest_mean / rest_variance
        precision = precision + step * (wanted - precision)
        pull = pull + step * (wanted_pull - pull)
        before, now = now, _posterior(effects, precision, pull)
        if not now.sound:
            # Too many negative ones at once are no distribution.
            precision = np.maximum(precision, 0.0)
            now = _posterior(effects, precision, pull)
        # A statement that may as well be right as wrong can waver for long; what
        # counts are the effects.
        moved = np.abs(now.mean - before.mean)
        if np.all(moved < _STILL * np.sqrt(np.diag(now.covariance))):
            break
    rest_mean, rest_variance = _without(now, precision, pull)
    wrong = _moments(rest_mean, rest_variance, statements)[2]
    return Inferred(now.mean, now.covariance, wrong)


def _without(now: _Posterior, precision: Array, pull: Array) -> tuple[Array, Array]:
    """Mean and variance of each quantity without its own statement."""
    left = np.maximum(1.0 / now.quantity_variance - precision, _LEAST_PRECISION)
    return (now.quantity_mean / now.quantity_variance - pull) / left, 1.0 / left


def _moments(
    mean: Array, variance: Array, statements: Statements
) -> tuple[Array, Array, Array]:
    """Mean and variance of each quantity with its statement, and if that is wrong."""
    at = mean[:, None] + np.sqrt(variance)[:, None] * _NODES
    both, wrong = statements.likelihood(at)
    weight = both * _WEIGHTS
    total = np.maximum(weight.sum(axis=1), _LEAST)
    middle = (weight * at).sum(axis=1) / total
    square = (weight * (at - middle[:, None]) ** 2).sum(axis=1) / total
    return middle, np.maximum(square, 1e-12 * variance), wrong[:, 0] / total


def _posterior(effects: Effects, precision: Array, pull: Array) -> _Posterior:
    """Effects and quantities with a normal statement about each quantity.

    The groups' own parts are as many as there are colours, but each meets the effects
    alone, so they are solved out one by one.
    """
    design, group = effects.design, effects.group
    groups = effects.group_variance.size
    own = 1.0 / effects.group_variance + np.bincount(group, precision, groups)
    shared = np.zeros((groups, design.shape[1]))
    np.add.at(shared, group, precision[:, None] * design)
    joint = np.diag(1.0 / effects.variance) + design.T @ (precision[:, None] * design)
    covariance = np.linalg.inv(joint - shared.T @ (shared / own[:, None]))
    covariance = 0.5 * (covariance + covariance.T)
    push = pull - precision * effects.offset
    push_group = np.bincount(group, push, groups)
    mean = covariance @ (shared.T @ (push_group / own) - design.T @ push)
    mean_group = (push_group + shared @ mean) / own
    across = (shared @ covariance) / own[:, None]
    own_variance = 1.0 / own + np.einsum("ge,ge->g", across, shared) / own
    variance = (
        np.einsum("se,ef,sf->s", design, covariance, design, optimize=True)
        + own_variance[group]
        - 2.0 * np.einsum("se,se->s", design, across[group])
    )
    middle = effects.offset - design @ mean + mean_group[group]
    return _Posterior(mean, covariance, own, middle, variance)
