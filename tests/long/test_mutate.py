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


def test_of_a_long_piece_of_code_what_was_changed_is_told() -> None:
    names = {f"name of salt {number:02}": number for number in range(40)}
    told = [mutant.what for mutant in mutants(f"NAMES = {names}\n")]
    assert "name of salt 31" in " ".join(told)
    for what in told:
        old, new = what.split(" -> ")
        assert old != new
        assert len(what) < 200
    # each key's fault is told by its own name
    assert sum("XX" in what for what in told) == len({what for what in told if "XX" in what}) == len(names)


def test_a_short_piece_of_code_is_told_whole() -> None:
    assert "part / whole -> part * whole" in [mutant.what for mutant in mutants(CODE)]
