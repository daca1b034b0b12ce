"""What a misspelt word may have been meant for."""

import pytest

from journal.problems import did_you_mean, nearest


@pytest.mark.parametrize(
    ("word", "known", "meant"),
    [
        ("wieght", ["height", "weight"], "weight"),
        ("first-wort", ["first_wort", "first_worts"], "first_wort"),
        ("l", ["ml", "L"], "L"),
        ("ML", ["bl", "mL"], "mL"),
        ("mash_eff", ["mash_time", "mash_efficiency"], "mash_efficiency"),
        ("firkin", ["L", "hL", "gal"], None),
    ],
)
def test_capitals_and_hyphens_count_less_than_letters(word: str, known: list[str], meant: str | None) -> None:
    assert nearest(word, known) == meant


def test_where_none_is_near_something_else_is_said() -> None:
    assert did_you_mean("mahs", ["mash", "boil"], "Choose one.") == "Did you mean mash?"
    assert did_you_mean("xyz", ["mash", "boil"], "Choose one.") == "Choose one."
