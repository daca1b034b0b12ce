"""What instruments were checked with, in words."""

from pathlib import Path

from texts import settings_at

from journal.pages.parts.checks import check_lines


def test_each_check_says_what_it_showed_and_since_when_that_counts(tmp_path: Path) -> None:
    text = (
        "instruments:\n"
        "  hydrometer:\n"
        "    checks:\n"
        "      - {on: 2026-11-14, since: 2026-10-31, of: water at 20 degC, shows: 1.002}\n"
        "      - {on: 2026-12-01, new: yes}\n"
        "  malt_scale: {uncertainty: 10 g, checks: [{on: 2026-03-01, of: 5.000 kg, shows: 5.000 kg}]}\n"
    )
    lines = check_lines(settings_at(tmp_path, text)[0])
    assert [(line.instrument, line.on.text, line.words) for line in lines] == [
        ("Scale", "1 March 2026", "showed 5.000 kg for 5.000 kg, as it must"),
        (
            "Hydrometer",
            "14 November 2026",
            "showed 1.002 for water at 20 °C; readings from 31 October 2026 on are corrected by it",
        ),
        ("Hydrometer", "1 December 2026", "a new one; what checks said of the old one ends here"),
    ]


def test_without_checks_there_is_nothing_to_tell(tmp_path: Path) -> None:
    assert check_lines(settings_at(tmp_path, "instruments: {hydrometer: 0.0007}\n")[0]) == ()
