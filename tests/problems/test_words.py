"""Words put together."""

import pytest

from journal.problems import capital, in_words


@pytest.mark.parametrize(
    ("several", "last", "said"),
    [([], "and", ""), (["malt"], "and", "malt"), (["a", "b"], "or", "a or b"), (["a", "b", "c"], "and", "a, b and c")],
)
def test_several_are_named_in_a_row(several: list[str], last: str, said: str) -> None:
    assert in_words(several, last) == said


def test_pH_and_the_names_of_fields_keep_their_letters() -> None:  # noqa: N802  # that is how it is written
    assert [capital(text) for text in ("mash pH", "pH of the mash", "`mash` is empty", "")] == [
        "Mash pH",
        "pH of the mash",
        "`mash` is empty",
        "",
    ]
