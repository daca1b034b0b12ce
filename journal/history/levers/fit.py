"""A regression that knows what each batch's number is worth, what batches of a lot share, and that some batches are odd.

The model is value = columns · effects + shares · lot errors + scatter. A lot's error is normal with a known standard
deviation and the same in all its batches; the scatter is each batch's own uncertainty and, on top of it, what differs from
batch to batch for no recorded reason. Solving for effects and lot errors at once (Henderson's mixed-model equations, C. R.
Henderson, Biometrics 31 (1975) 423) gives the effects of generalised least squares with the covariance
scatter² + lot_sd² · shares · sharesᵀ, without a matrix of batches by batches, and lets one odd batch be told from its lot.
"""

from __future__ import annotations

import math
from functools import cached_property
from typing import NamedTuple

import numpy as np

from journal.frozen import dataclass
from journal.numerics import Matrix, Places, Vector
from journal.numerics.robust import SD_BY_MEDIAN, WIDE, huber_weights, reweight

#: The search ends when the variance moves by less than this share of itself, and fitted values by less of a standard deviation.
_SETTLED = 1e-3
_STILL = 1e-4
#: Up to so many numbers the equations are solved by one matrix: then that is quicker than to go by each batch's few lots.
_DENSE = 100_000


@dataclass(frozen=True)
class LeverFit:
    """Effects of the columns, their covariance and degrees of freedom; `spread` between batches, one standard deviation.

    `lots`: the estimated error of each lot; `joint`: covariance of the e effects and l lot errors together, in this order,
    (e + l) × (e + l). `variance`: each batch's own, uncertainty and spread together.
    """

    effects: Vector
    lots: Vector
    joint: Matrix
    degrees_of_freedom: float
    spread: float
    variance: Vector

    @property
    def covariance(self) -> Matrix:
        """Covariance of the e effects, e × e."""
        count = len(self.effects)
        return self.joint[:count, :count]


@dataclass(frozen=True)
class _Lots:
    """The lots of each of b batches as a short list, since of many lots a batch holds only a few; shares scaled to unit prior.

    `at` and `share`, b × few; `count` is how many lots there are, l.
    """

    at: Places  # batch × the few
    share: Matrix
    count: int

    def of_batches(self, by_lot: Matrix) -> Matrix:
        """What each batch has of values that belong to the lots: l × … gives b × …."""
        has: Matrix = np.einsum("ij,ij...->i...", self.share, by_lot[self.at])
        return has

    def of_lots(self, by_batch: Matrix) -> Matrix:
        """The transpose of `of_batches`: b × … gives l × …."""
        total = np.zeros((self.count, *by_batch.shape[1:]))
        for few in range(self.at.shape[1]):
            share = self.share[:, few].reshape(-1, *(1 for _ in by_batch.shape[1:]))
            np.add.at(total, self.at[:, few], share * by_batch)
        return total

    def overlap(self, weights: Vector) -> Matrix:
        """Σ weight · share · shareᵀ over the batches, l × l."""
        pairs = weights[:, None, None] * self.share[:, :, None] * self.share[:, None, :]
        flat = self.at[:, :, None] * self.count + self.at[:, None, :]
        total: Matrix = np.bincount(flat.ravel(), pairs.ravel(), self.count**2).astype(np.float64)
        return total.reshape(self.count, self.count)

    def spread(self, covariance: Matrix) -> Vector:
        """Each batch's variance from a covariance of the lots, l × l."""
        between = covariance[self.at[:, :, None], self.at[:, None, :]]
        variance: Vector = np.einsum("ia,iab,ib->i", self.share, between, self.share)
        return variance


def _few(lots: Matrix, lot_sd: float) -> _Lots:
    """Shares, batches × lots, as short lists; a lot without an error of its own is none."""
    if lot_sd == 0.0:
        return _few(np.zeros((len(lots), 0)), 1.0)
    batch, lot = np.nonzero(lots)
    sizes = np.bincount(batch, minlength=len(lots))
    place = np.arange(len(batch)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    at = np.zeros((len(lots), int(np.max(sizes, initial=0))), dtype=np.intp)
    share = np.zeros(at.shape)
    at[batch, place], share[batch, place] = lot, lots[batch, lot] * lot_sd
    return _Lots(at, share, lots.shape[1])


@dataclass(frozen=True)
class _Equations:
    """The mixed-model equations of b batches, e effects and l lots at given variances: `basis`, b × e, spans the columns."""

    basis: Matrix
    lots: _Lots
    variance: Vector
    among_lots: Matrix  # l × l: inverse of the lots' own block
    carried: Matrix  # l × e: what a unit of each basis column does to the lots
    inverse: Matrix  # e × e: covariance of the basis columns' coefficients
    leverage: Vector

    @cached_property
    def dense(self) -> tuple[Matrix, Matrix] | None:
        """What `solve` and `fitted` do as matrices, (e + l) × b and b × (e + l); None where these would be large."""
        if len(self.basis) * (self.basis.shape[1] + self.lots.count) > _DENSE:
            return None
        shares = self.lots.of_batches(np.eye(self.lots.count))
        coefficients = self.inverse @ (self.basis - shares @ self.carried).T
        errors = self.among_lots @ shares.T - self.carried @ coefficients
        return np.concatenate([coefficients, errors]) / self.variance, np.concatenate([self.basis, shares], axis=1)

    @cached_property
    def width(self) -> Vector:
        """The standard deviation of each batch's residual.

        A batch that draws the fit to itself leaves a residual of √(1 − leverage) of its own only, so it is bent sooner.
        """
        width: Vector = np.sqrt(self.variance) * np.maximum(np.sqrt(1.0 - self.leverage), 1e-12)
        return width

    def solve(self, values: Vector) -> Vector:
        """Coefficients of the basis, then the lots' errors in units of their prior."""
        if self.dense is not None:
            found: Vector = self.dense[0] @ values
            return found
        weighed = values / self.variance
        to_lots = self.lots.of_lots(weighed)
        coefficients = self.inverse @ (self.basis.T @ weighed - self.carried.T @ to_lots)
        return np.concatenate([coefficients, self.among_lots @ to_lots - self.carried @ coefficients])

    def fitted(self, found: Vector) -> Vector:
        """What the coefficients and errors give each batch."""
        if self.dense is not None:
            fitted: Vector = self.dense[1] @ found
            return fitted
        effects = self.basis.shape[1]
        return self.basis @ found[:effects] + self.lots.of_batches(found[effects:])


def _inverse(matrix: Matrix) -> Matrix:
    inverse: Matrix = np.linalg.inv(matrix).astype(np.float64, copy=False)
    return inverse


def _equations(basis: Matrix, lots: _Lots, variance: Vector) -> _Equations:
    weighed = basis / variance[:, None]
    among_lots = _inverse(lots.overlap(1.0 / variance) + np.eye(lots.count))
    carried = among_lots @ lots.of_lots(weighed)
    # basis less what the lots would take up of it
    cleared = basis - lots.of_batches(carried)
    inverse = _inverse(cleared.T @ weighed)
    own = np.einsum("ij,ij->i", cleared @ inverse, cleared) + lots.spread(among_lots)
    return _Equations(basis, lots, variance, among_lots, carried, inverse, np.clip(own / variance, 0.0, 1.0))


@dataclass(frozen=True)
class _Bent:
    """What bending at some point does to a standard normal residual.

    `straight`: how often it isn't bent; `square`: its mean square once bent; `worth`: degrees of freedom that a variance
    found from bent squares is worth, as a share of those found from all (by the delta method).
    """

    straight: float
    square: float
    worth: float


def _bent_normal(bend: float) -> _Bent:
    if math.isinf(bend):
        return _Bent(1.0, 1.0, 1.0)
    straight = math.erf(bend / math.sqrt(2.0))
    edge = 2.0 * bend * math.exp(-0.5 * bend**2) / math.sqrt(2.0 * math.pi)
    inner = straight - edge
    square = inner + bend**2 * (1.0 - straight)
    fourth = 3.0 * straight - edge * (bend**2 + 3.0) + bend**4 * (1.0 - straight)
    return _Bent(straight, square, 2.0 * inner**2 / (fourth - square**2))


class _Solution(NamedTuple):
    """Coefficients of the basis and lots' errors, and what they give each batch."""

    found: Vector
    fitted: Vector


def _settle(equations: _Equations, values: Vector, start: Vector, bend: float) -> _Solution:
    """Coefficients and lots' errors where the bent residuals balance, from a `start` of coefficients then errors.

    By modified residuals (P. J. Huber, Robust Statistics (1981), 7.8): the equations are factored only once. Steps are
    lengthened by what bending takes from them.
    """
    still = _STILL * np.sqrt(equations.variance)
    stride = 1.0 / _bent_normal(bend).straight

    def solve(weights: Vector, before: _Solution) -> _Solution:
        bent = before.fitted + weights * (values - before.fitted)
        found = before.found + stride * (equations.solve(bent) - before.found)
        return _Solution(found, equations.fitted(found))

    return reweight(
        _Solution(start, equations.fitted(start)),
        away=lambda at: (values - at.fitted) / equations.width,
        solve=solve,
        bend=bend,
        rounds=1 if math.isinf(bend) else 100,
        settled=lambda before, now: bool((np.abs(now.fitted - before.fitted) < still).all()),
    )[0]


def _variance(mean: float, own: Vector) -> Vector:
    """Each batch's variance when it is `mean` on average.

    Beyond the batches' own uncertainties it is the same for all; where they scatter less than these say, all were stated
    too large alike. None is taken for perfect.
    """
    stated = float(np.mean(own))
    variance: Vector = own + (mean - stated) if mean >= stated else own * (mean / stated)
    return np.maximum(variance, 1e-3 * mean)


def _first_guess(basis: Matrix, values: Vector, lot_sd: float) -> tuple[float, float]:
    """Mean variance about the plain least-squares fit by a `basis`, b × e, from the median residual; and the least that is more
    than rounding.
    """
    least = max(1e-12 * float(np.max(np.abs(values))), 1e-5 * lot_sd, 1e-12) ** 2
    residuals = values - basis @ (basis.T @ values)
    middle = SD_BY_MEDIAN * float(np.median(np.abs(residuals)))
    return max(middle**2, float(np.mean(residuals**2)) / 10.0, least), least


def _excess(equations: _Equations, residuals: Vector, lots: Vector, bend: float) -> tuple[float, float]:
    """The bent residuals' sum of squares over what normal scatter would give, and the power of it that mends the variance."""
    square = _bent_normal(bend).square
    weights = huber_weights(residuals / equations.width, bend)
    bent = weights * residuals / np.sqrt(equations.variance)
    straight = weights > 1.0 - 1e-9
    batches, effects = equations.basis.shape
    left_by_batches = float(np.sum(1.0 - equations.leverage))
    wanted = square * left_by_batches + (batches - effects - left_by_batches)
    found = float(bent @ bent) + float(lots @ lots)
    # bent residuals stay as they are when the variance moves
    moving = found - float(np.sum(bent[~straight] ** 2))
    return found / wanted, min(found / moving, 3.0) if moving > 0.0 else 1.0


def fit(columns: Matrix, values: Vector, sds: Vector, lots: Matrix, lot_sd: float, bend: float = WIDE) -> LeverFit:
    """Fit b `values` by `columns` (b × e, full rank, e below b), the batches' own `sds`, and `lots` (shares, b × l).

    The variance between batches is the one at which the bent residuals' sum of squares is what normal scatter would give
    for the degrees of freedom left (Huber's proposal 2, taken to the batches' variance; without bending it is the
    moment estimate, R. C. Paule and J. Mandel, J. Res. NBS 87 (1982) 377, and for equal uncertainties and no lots the
    residual variance of ordinary least squares). `bend` in standard deviations; infinity leaves the residuals straight.
    """
    basis, triangle = np.linalg.qr(columns)
    few_lots = _few(lots, lot_sd)
    normal = _bent_normal(bend)
    mean, least = _first_guess(basis, values, lot_sd)
    found = np.concatenate([basis.T @ values, np.zeros(few_lots.count)])
    own = sds**2
    for _ in range(40):
        equations = _equations(basis, few_lots, _variance(mean, own))
        found, fitted = _settle(equations, values, found, bend)
        ratio, pull = _excess(equations, values - fitted, found[basis.shape[1] :], bend)
        mean = max(mean * ratio**pull, least)
        if abs(ratio - 1.0) < _SETTLED:
            break
    back = _inverse(triangle)
    # for as many effects as this few batches, bending costs more than in the long run (Huber 1981, 7.6)
    few = 1.0 + float(np.mean(equations.leverage)) * (1.0 - normal.straight) / normal.straight
    joint = _joint(equations, back, lot_sd) * (max(ratio, 1e-6) * normal.square * (few / normal.straight) ** 2)
    spread = math.sqrt(max(mean - float(np.mean(own)), 0.0))
    degrees_of_freedom = (len(values) - columns.shape[1]) * normal.worth
    effects, errors = np.split(found, [basis.shape[1]])
    return LeverFit(back @ effects, errors * lot_sd, joint, degrees_of_freedom, spread, equations.variance)


def _joint(equations: _Equations, back: Matrix, lot_sd: float) -> Matrix:
    effects = back @ equations.inverse @ back.T
    across = -lot_sd * (back @ equations.inverse @ equations.carried.T)
    lots = lot_sd**2 * (equations.among_lots + equations.carried @ equations.inverse @ equations.carried.T)
    return np.block([[effects, across], [across.T, lots]])
