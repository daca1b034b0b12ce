"""The sieve test of a crushed malt: which share of it stays on which mesh."""

from __future__ import annotations

from collections.abc import Iterator

from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.units import LENGTH, SHARE
from journal.reading.located_yaml import Mapping, Node, Scalar
from journal.reading.values import Context, Quantity

PAN = "pan"
#: How far the shares may miss the whole: what is lost as dust, and rounding (common practice).
MISSING = 0.02


@dataclass(frozen=True)
class SieveFraction:
    """What stays on a mesh, mm, as a share of the sample by weight; a mesh of 0 is the pan. `path` is where it stands."""

    path: str
    mesh: float
    share: Measure


@dataclass(frozen=True)
class SieveTest:
    """A group that names each mesh, and the pan, with its share."""

    words: str = "{1.25 mm: 32 %, 0.5 mm: 38 %, pan: 30 %}"

    def read(self, node: Node, path: str, context: Context) -> tuple[SieveFraction, ...] | None:
        """The fractions, the coarsest first."""
        if not isinstance(node, Mapping):
            hint = f"Write {path}: {self.words}."
            context.report("wrong-shape", f"`{path}` must be meshes with their shares", hint, node.span, path)
            return None
        before = len(context.problems)
        found = sorted(_fractions(node, path, context), key=lambda fraction: -fraction.mesh)
        if len(context.problems) > before:
            return None
        whole = sum(fraction.share.value for fraction in found)
        if abs(whole - 1.0) > MISSING + 1e-9:
            message = f"the shares under `{path}` add up to {100 * whole:.4g} %"
            hint = (
                "Weigh what stays on every sieve and in the pan; together they are the whole sample, 100 % within 2 %."
            )
            context.report("shares-incomplete", message, hint, node.span, path)
            return None
        return tuple(found)


def _fractions(node: Mapping, path: str, context: Context) -> Iterator[SieveFraction]:
    stood: set[float] = set()
    for key, value in node.pairs:
        inside = f"{path}.{key.text}"
        context.names[inside], context.places[inside] = key.span, value.span
        mesh = _mesh(key, inside, context)
        if mesh in stood:
            message = f"the mesh {key.text} stands under `{path}` already"
            context.report("repeated-field", message, "Keep one of the two.", key.span, inside)
        if isinstance(value, Scalar) and value.empty:
            continue
        share = Quantity(SHARE, zero=True).read(value, inside, context)
        if mesh is not None and share is not None:
            stood.add(mesh)
            yield SieveFraction(inside, mesh, share)


def _mesh(key: Scalar, path: str, context: Context) -> float | None:
    if key.text == PAN:
        return 0.0
    if not any(character.isdigit() for character in key.text):
        message = f"`{path}` names no mesh"
        context.report("unknown-field", message, "Write the mesh, such as 1.25 mm, or pan.", key.span, path)
        return None
    mesh: Measure | None = Quantity(LENGTH).read(key, path, context)
    return None if mesh is None else mesh.value
