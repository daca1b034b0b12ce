"""A journal to start from: settings, malts and a first entry, every field with its meaning and nothing claimed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from journal.publishing.begin.bare import bare_entry, empty_fields
from journal.publishing.begin.yaml_lines import YamlLine, align_comments
from journal.reading.brewery import Brewery, Brewhouse, Kettle, MashTun
from journal.reading.files import ENTRIES
from journal.reading.instruments import Hydrometer, Instruments, PhMeter, Refractometer
from journal.reading.malts import Malt
from journal.reading.table import fields_of

FIRST = "01-first.md"
#: Where the site is built, as git is told to leave it out.
SITE = "site/"


def brewery_lines() -> Iterator[YamlLine]:
    """brewery.yaml: every field blank, its meaning beside it."""
    yield YamlLine(
        "# Your instruments and vessels. Fill in what you know; what stays blank counts as common practice has it,"
    )
    yield YamlLine("# or is learnt from your own batches.")
    yield from empty_fields(Brewery, "", "name", "units", "address")
    yield YamlLine("instruments:", "standard uncertainties")
    yield from empty_fields(Instruments, "  ", "malt_scale", "hop_scale", "volume", "thermometer")
    yield from _group("hydrometer", Hydrometer, "  ", "uncertainty", "calibrated_at")
    yield from _group("refractometer", Refractometer, "  ", "uncertainty", "wort_factor")
    yield from _group("ph_meter", PhMeter, "  ", "uncertainty", "calibrated")
    yield YamlLine("brewhouses:")
    yield YamlLine("  main:", "a key of your choosing, for `brewhouse:` in entries if there are several")
    yield from empty_fields(Brewhouse, "    ", "name")
    yield from _group("mash_tun", MashTun, "    ", "volume", "dead_space")
    yield from _group("kettle", Kettle, "    ", "volume", "loss")
    yield from empty_fields(Brewhouse, "    ", "boil_off", "absorption")


def _group(name: str, record: type, indent: str, *fields: str) -> Iterator[YamlLine]:
    yield YamlLine(f"{indent}{name}:")
    yield from empty_fields(record, f"{indent}  ", *fields)


def malts_lines() -> Iterator[YamlLine]:
    """malts.yaml: one lot, blank, to be copied."""
    yield YamlLine(
        "# Your malts, lot by lot: copy the block for each sack whose sheet you have. Without a sheet, name a kind"
    )
    yield YamlLine("# such as pale malt in the entry; its values are typical ones.")
    yield YamlLine("my-pale-malt:", "a key of your choosing, for `malt:` in entries")
    yield from empty_fields(Malt, "  ", *fields_of(Malt))


def start_journal(root: Path, day: date) -> list[Path]:
    """Write the journal into a folder without one; nothing that is there is touched. Raises OSError where it can't be written."""
    entries = root / ENTRIES
    entries.mkdir()
    files = {
        "brewery.yaml": brewery_lines(),
        "malts.yaml": malts_lines(),
        FIRST: bare_entry("1", "My first batch", day.isoformat(), "", "pale malt"),
    }
    for name, lines in files.items():
        with (entries / name).open("x", encoding="utf-8") as file:
            file.write(align_comments(lines))
    written = [entries / name for name in files]
    ignored = root / ".gitignore"
    if not ignored.exists() and not ignored.is_symlink():
        ignored.write_text(f"{SITE}\n", "utf-8")
        written.append(ignored)
    return written


def ignores(root: Path, folder: str) -> bool:
    """Whether a line of the .gitignore in `root` leaves out a folder at its top, named with a slash at its end."""
    try:
        lines = (root / ".gitignore").read_text("utf-8", errors="replace").splitlines()
    except OSError:
        return False
    return any(line.strip().strip("/") == folder.strip("/") for line in lines)
