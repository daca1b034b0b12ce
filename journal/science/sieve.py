"""What a sieve test says of the crush: husks, grits and flour."""

from collections.abc import Sequence
from math import fsum
from typing import NamedTuple

#: mm. What stays on the first is husk with what clings to it, what stays between the two is grits, the rest is fine grits and
#: flour. MEBAK sieves by DIN ISO 3310-1 or an older set (mebak.org), of which common practice has 1.25 and 0.5 mm, older 1.27 and
#: 0.547; the ASBC no. 14 and no. 30, 1.40 and 0.600 mm (J. Helber, How good is your grist?, 2014). These are the two that matter.
HUSK_MESH, GRITS_MESH = 1.25, 0.5
_HUSK_MESHES = (1.18, 1.45)
_GRITS_MESHES = (0.45, 0.62)


class Crush(NamedTuple):
    """Shares of a sample by weight; None where no mesh of the set parts it there."""

    husks: float | None
    coarse: float | None
    fine: float | None


def _parting(meshes: Sequence[float], within: tuple[float, float], wanted: float) -> float | None:
    fitting = [mesh for mesh in meshes if within[0] <= mesh <= within[1]]
    return min(fitting, key=lambda mesh: abs(mesh - wanted), default=None)


def crush_of(fractions: Sequence[tuple[float, float]]) -> Crush:
    """Return the husks, the coarse grits, and the fine grits with the flour, as shares of the whole.

    fractions: pairs of mesh, mm (0 for the pan), and what stayed on it, in any unit; their sum must not be 0.
    Source: the fractions of the grist's sieve analysis, MEBAK, grouped in three as the trade speaks of a crush (common
    practice).

    >>> [round(share, 2) for share in crush_of([(1.25, 0.32), (1.0, 0.1), (0.5, 0.28), (0.0, 0.30)])]
    [0.32, 0.38, 0.3]
    """
    whole = fsum(share for _, share in fractions)
    if whole == 0.0:
        raise ValueError("a sample of nothing has no shares")
    meshes = [mesh for mesh, _ in fractions]
    husk, grits = _parting(meshes, _HUSK_MESHES, HUSK_MESH), _parting(meshes, _GRITS_MESHES, GRITS_MESH)

    def between(low: float, high: float) -> float:
        return fsum(share for mesh, share in fractions if low <= mesh < high) / whole

    infinity = float("inf")
    return Crush(
        None if husk is None else between(husk, infinity),
        None if husk is None or grits is None else between(grits, husk),
        None if grits is None else between(0.0, grits),
    )
