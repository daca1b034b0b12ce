"""What moved: against published figures, against plain numpy, by hand, and on a few simulated journals."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from journal.history.moved.guard import RISK, by_chance, limit, strongest
from journal.history.moved.ratio import MoveDesign, Moves, design_of, moves_of
from journal.history.moved.said import Said
from journal.history.moved.whitened import Whitened


def bare(y: np.ndarray, by_cause: np.ndarray, causes: tuple[str, ...], nuisance: np.ndarray | None = None) -> Whitened:
    """Residuals of variance one with the patterns of causes, and no lots."""
    count, size = y.shape
    levels = np.zeros((count, size, 1)) if nuisance is None else nuisance
    return Whitened(
        tuple(str(number) for number in range(1, count + 1)),
        y,
        levels,
        np.full(levels.shape[2], 1e-12) if nuisance is not None else np.ones(1),
        causes,
        by_cause,
        np.full(len(causes), 10.0),
        (),
        np.array([], dtype=int),
        np.zeros((0, count)),
        np.zeros(0),
    )


def asked(w: Whitened) -> tuple[MoveDesign, Moves]:
    design = design_of(w)
    return design, moves_of(design, Said())


def ratio(moves: Moves, cause: str, first: int) -> float:
    """T of one move."""
    at = next(i for i, name in enumerate(moves.cause) if name == cause and moves.first[i] == first)
    return float(moves.score[at] ** 2 / moves.known[at])


class TestExchangerWithBypass:
    """A heat exchanger with a bypass: stream 1 splits into 2 (through the exchanger) and 3 (past it), which leave as 4 and 5 and
    join to 6. The usual textbook network of data reconciliation (Narasimhan & Jordache 2000, ch. 1 and 7), true flows 100,
    64, 36, 64, 36, 100. Balances: 1 - 2 - 3, 2 - 4, 3 - 5, 4 + 5 - 6. Twelve repeated samples, instruments of variance 1; from
    the seventh on one of them reads 4 too much.
    """

    A = np.array([[1, -1, -1, 0, 0, 0], [0, 1, 0, -1, 0, 0], [0, 0, 1, 0, -1, 0], [0, 0, 0, 1, 1, -1]], dtype=float)
    TRUE = np.array([100.0, 64.0, 36.0, 64.0, 36.0, 100.0])
    SAMPLES, FIRST, BIAS = 12, 6, 4.0
    STREAMS = ("hydrometer", "refractometer", "kettle marks", "fermenter marks", "liquor measure", "malt scale")

    def whitened(self, noise: np.ndarray, stream: int) -> Whitened:
        readings = self.TRUE + noise
        readings[self.FIRST :, stream] += self.BIAS
        root = np.linalg.inv(np.linalg.cholesky(self.A @ self.A.T))
        y = readings @ self.A.T @ root.T
        patterns = np.stack([np.tile(root @ self.A[:, i], (self.SAMPLES, 1)) for i in range(6)])
        return bare(y, patterns, self.STREAMS)

    def test_balances_hold_of_the_true_flows(self):
        assert np.allclose(self.A @ self.TRUE, 0.0)

    @pytest.mark.parametrize("stream", range(6))
    def test_ratio_by_hand(self, stream: int):
        _, moves = asked(self.whitened(np.zeros((self.SAMPLES, 6)), stream))
        # six samples, each bias² a' (A A')⁻¹ a. For streams 1 and 6 by hand: A A' is [[3, -1, -1, 0], [-1, 2, 0, -1],
        # [-1, 0, 2, -1], [0, -1, -1, 3]], its determinant 12, and without the first row and column 8
        hand = 8.0 / 12.0
        column = self.A[:, stream]
        each = column @ np.linalg.solve(self.A @ self.A.T, column)
        if stream in (0, 5):
            assert each == pytest.approx(hand)
        assert ratio(moves, self.STREAMS[stream], self.FIRST) == pytest.approx(6 * self.BIAS**2 * each)

    def test_the_right_stream_at_the_right_sample(self):
        rng = np.random.default_rng(4)
        right = 0
        for stream in range(6):
            _, moves = asked(self.whitened(rng.normal(size=(self.SAMPLES, 6)), stream))
            best = int(np.argmax(moves.evidence(moves.score)))
            right += moves.cause[best] == self.STREAMS[stream] and abs(int(moves.first[best]) - self.FIRST) <= 1
        assert right >= 5

    def test_ratio_of_one_known_move_follows_chi_square(self):
        # nothing moved: T of one cause at one date is χ² of one degree of freedom; biased: noncentral by the ratio without noise
        rng = np.random.default_rng(5)
        quiet, biased = [], []
        for _ in range(400):
            noise = rng.normal(size=(self.SAMPLES, 6))
            still = self.whitened(noise.copy(), 1)
            biased.append(ratio(asked(still)[1], "refractometer", self.FIRST))
            readings = self.TRUE + noise
            root = np.linalg.inv(np.linalg.cholesky(self.A @ self.A.T))
            quiet.append(
                ratio(
                    asked(bare(readings @ self.A.T @ root.T, still.by_cause, self.STREAMS))[1],
                    "refractometer",
                    self.FIRST,
                )
            )
        exact = ratio(asked(self.whitened(np.zeros((self.SAMPLES, 6)), 1))[1], "refractometer", self.FIRST)
        assert stats.kstest(quiet, stats.chi2(1).cdf).pvalue > 0.01
        assert stats.kstest(biased, stats.ncx2(1, exact).cdf).pvalue > 0.01


def test_ratios_by_plain_numpy():
    """Twenty batches, two causes, two nuisance levels: full matrices and least squares instead of running sums."""
    rng = np.random.default_rng(7)
    count, size = 20, 3
    patterns = rng.normal(size=(2, count, size))
    levels = rng.normal(size=(count, size, 2))
    y = rng.normal(size=(count, size)) + 1.5 * patterns[1] * (np.arange(count) >= 9)[:, None]
    _, moves = asked(bare(y, patterns, ("hydrometer", "kettle marks"), levels))
    flat, x = y.reshape(-1), levels.reshape(-1, 2)

    def left(design: np.ndarray) -> float:
        return float(np.sum((flat - design @ np.linalg.lstsq(design, flat, rcond=None)[0]) ** 2))

    for place, (cause, first) in enumerate(zip(moves.cause, moves.first.tolist(), strict=True)):
        pattern = patterns[("hydrometer", "kettle marks").index(cause)] * (np.arange(count) >= first)[:, None]
        alone = left(x) - left(np.column_stack([x, pattern.reshape(-1)]))
        assert moves.score[place] ** 2 / moves.known[place] == pytest.approx(alone, rel=1e-6, abs=1e-9)


def test_two_known_moves_by_plain_numpy():
    rng = np.random.default_rng(8)
    count, size = 16, 4
    patterns = rng.normal(size=(2, count, size))
    y = rng.normal(size=(count, size))
    _, moves = asked(bare(y, patterns, ("hydrometer", "kettle marks")))
    first, second = 2, len(moves.cause) - 3
    given = moves.given([first])
    columns = [
        (
            patterns[("hydrometer", "kettle marks").index(moves.cause[i])]
            * (np.arange(count) >= moves.first[i])[:, None]
        ).reshape(-1)
        for i in (first, second)
    ]
    # the known one is held by its usual size, as a row of its own has it
    design = np.vstack([np.array(columns).T, [1.0 / moves.usual[first], 0.0]])
    flat = np.append(y.reshape(-1), 0.0)

    def left(these: np.ndarray) -> float:
        return float(np.sum((flat - these @ np.linalg.lstsq(these, flat, rcond=None)[0]) ** 2))

    gain = left(design[:, :1]) - left(design)
    assert given.score[second] ** 2 / given.known[second] == pytest.approx(gain, rel=1e-6)


def test_scatter_alone_passes_the_limit_as_seldom_as_said():
    rng = np.random.default_rng(11)
    count, size = 24, 4
    patterns = np.tile(rng.normal(size=(3, 1, size)), (1, count, 1))
    names = ("hydrometer", "kettle marks", "malt scale")
    design, moves = asked(bare(np.zeros((count, size)), patterns, names))
    most = limit(by_chance(design, moves), RISK)
    y = rng.standard_normal((2000, count, size))
    passed = strongest(moves, design.scores(y, np.zeros((2000, 1)), np.zeros(len(moves.cause)))) > most
    assert 0.03 <= np.mean(passed) <= 0.10
