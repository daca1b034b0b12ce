"""The registry of rules: every fault the tool can name, its severity, and why it is one.

A rule is named for the fault, in kebab-case. `error` is kept for what can't be read or contradicts the format; a value
that can't be true is a `warning`, for it is the sign of a wrong reading and the rest of the journal is still worth
having.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Severity(Enum):
    """How grave a problem is."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for an error, 1 for a warning, 2 for a note."""
        return list(Severity).index(self)


@dataclass(frozen=True)
class Rule:
    """`code` names the fault, `why` says in a sentence why it is one."""

    code: str
    severity: Severity
    why: str


def _table(severity: Severity, **whys: str) -> dict[str, Rule]:
    return {name.replace("_", "-"): Rule(name.replace("_", "-"), severity, why) for name, why in whys.items()}


RULES: dict[str, Rule] = {
    **_table(
        Severity.ERROR,
        # files
        file_unreadable="The file can't be opened.",
        file_not_a_file="Something that ends in .md is a folder or a device, not a file.",
        file_empty="An entry without text records nothing.",
        file_too_large="An entry over 1 MiB is not something a brewer wrote by hand; it is refused unread.",
        file_not_text="The file holds bytes that are no UTF-8 text.",
        file_outside="The file leads out of entries/, and the journal reads nothing from elsewhere.",
        # YAML
        front_matter_missing="An entry starts with YAML between two lines of three hyphens.",
        front_matter_open="The front matter never closes, so nobody can say where the prose begins.",
        yaml_syntax="The YAML can't be read as it stands.",
        yaml_tab="YAML indents with spaces only.",
        yaml_anchor="Anchors and aliases hide what a reading is; each reading is written out where it belongs.",
        yaml_tag="Tags would change what a value means; the format has none.",
        yaml_ended="What stands below a line of three dots would be dropped without a word.",
        second_document="One file holds one document.",
        repeated_field="A field given twice would lose one of its values without a word.",
        # shapes
        unknown_field="The format is closed, so that a misspelt reading is never lost in silence.",
        field_missing="The journal can't place a batch without it.",
        list_too_long="No batch has so many of anything, and working them out would take minutes.",
        wrong_shape="A field must be a value, a list or a group of fields, and this is another of these.",
        not_a_date="Dates are written year-month-day, as ISO 8601 has them.",
        shares_not_whole="Shares of one thing make up the whole of it.",
        not_a_clock_time="A line of the day's clock is a time and what was done then.",
        not_a_time="Moments are written year-month-day hour:minute, as ISO 8601 has them.",
        not_a_choice="The field takes one of a few words.",
        not_yes_or_no="The field takes yes or no.",
        not_an_address="Links in full need an address of the web, with http or https in front.",
        not_an_id="A batch is named by a whole number or a short id of letters, digits and hyphens.",
        # quantities
        number_unreadable="The quantity has no number that can be read.",
        number_out_of_range="The number can't be meant: it lies outside what the field can hold.",
        decimal_comma="A comma may be a decimal sign or part of a thousand; the journal does not guess.",
        thousands_separator="A separator between thousands may be taken for a decimal sign.",
        unit_missing="A number without its unit is never guessed at.",
        unit_unknown="The unit is not one the field knows.",
        unit_wrong_kind="The unit measures something else.",
        temperature_misplaced="Only volumes, hydrometer readings and pH change with the sample's temperature.",
        uncertainty_misplaced="The field takes no uncertainty of its own.",
        # sense
        batch_repeated="Two entries with one batch id would overwrite each other.",
        batch_unknown="A link to a batch that isn't there leads to nothing.",
        links_in_ring="No batch is made of itself.",
        links_disagree="A part was brewed with its batch: on that day, in that brewhouse.",
        linked_batch_broken="What rests on a batch that can't be published can't be worked out.",
        brewhouse_unknown="The brewhouse is not described in brewery.yaml.",
        malt_unknown="Without a malt's extract nothing can be said of what it gave.",
        kind_unknown="A kind gives typical values; one that is not in the table gives none.",
        fields_contradict="Two fields state the same thing, and only one can hold.",
        reading_unknown="A rule about a reading names one that the entry does not have.",
        shares_incomplete="The parts of a sample add up to the whole of it.",
        dip_unknown="How deep a stick was wet is a volume only by its vessel's table.",
        dip_table="Of a table that does not rise, one depth could mean two volumes.",
        check_impossible="No instrument is that far off; one of the two numbers is a slip.",
        score_without_scale="A score says nothing without the highest there is.",
        # logs
        log_missing="The entry names a log that is not there.",
        log_outside="The log lies outside entries/, and the journal reads nothing from elsewhere.",
        log_unreadable="The log can't be opened, is no file, or is larger than any logger of the trade writes.",
        log_empty="A log without a reading records nothing.",
        log_header="Only a header says which column holds what.",
        log_row="A row that does not fit the header has its readings in the wrong columns.",
        log_time="A course is read in order of time; a reading without its time, or before an earlier one, has no place in it.",
        log_unit="The readings can't be in the unit that the header gives, and a unit is never guessed.",
        # prose
        prose_brackets="The Markdown parser goes back from every bracket that is never closed: a hundred thousand take it minutes.",
        link_leaves_journal="A link out of entries/ breaks once the journal is published.",
        link_broken="The link leads to nothing.",
        picture_missing="The picture is not there.",
        picture_unreadable="The file is no picture a browser shows, or too large to publish.",
        # themes
        theme_unknown="There is no theme of this name, so nothing says how the pages look.",
        template_broken="A template that can't be read, or that asks for what is not there, sets no page.",
        template_unreadable="A file of the theme can't be opened, is not text where it must be, or lies outside its folder.",
        block_unknown="A block that the extended template does not have would never be seen.",
        # the machine
        journal_missing="There is no entries/ folder to read.",
        output_not_ours="The output folder holds files that no build wrote; nothing is deleted there.",
        output_unwritable="The output folder can't be written.",
        output_busy="Two builds that write one folder at once would spoil each other's site.",
        build_failed="A fault of the program, said without ending the watch.",
        internal_fault="A fault of the program, and none of the brewer's: what it touches is left out, and the rest is made.",
    ),
    **_table(
        Severity.WARNING,
        reading_impossible="A value that can't be true is the sign of a wrong reading.",
        volume_impossible="Wort does not grow without something being added, and a vessel holds no more than its volume.",
        balance_broken="The readings contradict one another, so at least one of them is wrong.",
        text_direction="An invisible sign that turns the direction of writing, and is never closed, turns what follows on every page.",
        sample_hot="A hydrometer in a sample above 50 °C floats in convection and steam; its correction is not to be trusted.",
        temperature_doubtful="No such thing is brewed so warm or cold, and on the other scale it would be: the unit is a slip.",
        picture_elsewhere="The journal asks nothing of any other host, so a picture from elsewhere is shown as a link.",
        file_runs="A page or drawing that runs, once published, could read all of the journal in a reader's browser.",
        log_unit_doubtful="The readings are unlikely in the unit that the header gives.",
        log_rows_disagree="Two readings of one time can't both hold.",
        template_unused="A template that nothing asks for may be a misspelt one.",
        batch_like_another="Where capitals don't count in file names, as on Windows and macOS, two such batches would share one page.",
        dates_disorder="One of the dates is wrong: a batch is brewed before it is pitched, read and packaged.",
        readings_at_once="Two readings of one time can't both hold.",
        gravity_rises="Beer grows no heavier while it ferments, so one of two gravities is wrong.",
        addition_unknown="What an addition brings is never taken for nothing; nobody can know it of a name that stands for nothing.",
        uncertainty_doubtful="An uncertainty larger than any such instrument's makes every figure that hangs on it worth nothing.",
        container_missing="How much pressure a container can take decides how much sugar it may be given.",
        pressure_over_rating="A container under more pressure than it is made for can burst.",
        water_unknown="A water that nobody described brings nobody knows what.",
        priming_uncomputed="A sugar whose gas nobody can calculate is not known to be safe.",
        carbonation_above_wanted="More gas than was asked for is a wrong weight, sugar or volume, and may be more than glass can take.",
        carbonation_beyond_bottle="A bottle that holds more gas than it is made for can burst and blind.",
        packaged_unready="Beer that ferments on in a bottle can burst it; one that is stuck looks level too.",
        priming_unready="Sugar added to a beer that still ferments, or may, can burst its container.",
    ),
    **_table(
        Severity.NOTE,
        balance_strained="The readings agree only just; one of them may be off.",
        nothing_recorded="Of an entry without a reading nothing can be calculated.",
        field_without_effect="What is written where nothing reads it may be meant for another place, or for another field.",
        hidden_by_hash="What stands behind a hash is a comment, and the field is blank.",
        gallon_unsaid="A US gallon is a sixth less than an imperial one, and `gal` alone says neither.",
        level_moved="An instrument, a lot of malt or the brewing is not what it was, and the record reads differently since.",
        malt_without_extract="A malt that is described without its extract or kind counts for no more than one that is not described.",
        vessel_unknown="A fermenter that brewery.yaml does not list may be a misspelt one, and nobody knows its marks.",
        record_disagrees="A value that brewery.yaml states is contradicted by the brewery's own record.",
        log_column_unread="A column that nothing reads may be a misspelt one.",
        log_reading_left_out="A reading that is not of the mash or beer would spoil what is calculated from the course.",
        log_row_repeated="A row that stands twice counts once.",
        picture_without_words="A picture without a description says nothing to those who can't see it.",
    ),
}
