"""The faults that are put into code: what they change, and what they leave alone."""

from __future__ import annotations

import ast

from long.mutate import mutants

CODE = '''
def share(part: float, whole: float) -> float:
    """A part of 100 > 1 things, in words."""
    return part / whole if whole > 0 else 0.5
'''


def test_every_fault_is_code_of_another_meaning() -> None:
    found = list(mutants(CODE))
    assert found
    for mutant in found:
        assert ast.dump(mutant.tree()) != ast.dump(ast.parse(CODE))
        compile(mutant.tree(), "share.py", "exec")


def test_a_fault_shows_in_what_the_code_gives() -> None:
    def run(tree: ast.Module) -> tuple[object, ...]:
        names: dict[str, object] = {}
        exec(compile(tree, "share.py", "exec"), names)
        share = names["share"]
        assert callable(share)
        return tuple(_outcome(share, whole) for whole in (4.0, 0.5, 0.0, -4.0))

    whole = run(ast.parse(CODE))
    assert all(run(mutant.tree()) != whole for mutant in mutants(CODE))


def _outcome(share: object, whole: float) -> object:
    try:
        return share(1.0, whole)  # type: ignore[operator]
    except (TypeError, ZeroDivisionError) as error:
        return type(error)


def test_words_for_people_are_left_alone() -> None:
    assert not list(mutants('"""More than 100 > 1 words."""\n'))
