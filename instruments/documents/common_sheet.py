"""One sheet for many equal tags: a common block with what all share, and a table with a row for each tag.

Which field goes where is not listed anywhere: every printing field of the registry is compared as it would be shown,
and what is not the same for all becomes a column.

Pure, as `instruments.documents.datasheet`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from instruments.checks.case import Case, Row, Value
from instruments.documents.datasheet import NO_FINDING, levels_from
from instruments.documents.sheet_blocks import (
    LABEL_MM,
    REMAINING,
    FindingLine,
    FindingText,
    grid_blocks,
    named,
    pairs_block,
    room_mm,
)
from instruments.documents.sheet_rows import IN_HEADING, TABLES, TAG, Footnotes, SheetRows, companion_of
from instruments.field_defs import ROLES
from project.documents.engine import Metadata, html_to_pdf
from project.documents.sheet_columns import Columns, Grid, Translate, abreast
from project.documents.sheet_frame import STYLESHEETS, Block, frame, render
from project.documents.sheet_head import SheetHead
from project.registry import GROUPS, REGISTRY, FieldDef, gettext_noop

# Widths as css/sheet.css has them.
PORTRAIT, LANDSCAPE = Columns(2, LABEL_MM, 38.0), Columns(3, 40.0, 36.0)
# What a row is known by is said by its heading.
KNOWN_BY = IN_HEADING | {"setpoint.name"}

TAGS = gettext_noop("{first} … {last} ({count} tags)")
EACH_TAG = gettext_noop("Each tag")
PER_TAG = gettext_noop("per tag")
REMAINING_FINDINGS = gettext_noop("Findings that remain")
ALL_TAGS = gettext_noop("All tags.")
INTERNAL, MEDIUM = gettext_noop("Internal {number}"), gettext_noop("Medium {number}")

# Where a value stands in a Case: the entity, and the name of its row where there are several.
Place = tuple[str, str]


def common_sheet_html(
    cases: Sequence[Case],
    head: SheetHead,
    findings: Sequence[Sequence[FindingText]],
    translate: Translate = str,
) -> str:
    """The sheet as one HTML document for `css/sheet.css`; arguments as in `common_sheet_pdf`."""
    if len(cases) < 2:
        raise ValueError(f"cases has {len(cases)}: a common sheet takes two or more")
    if len(findings) != len(cases):
        raise ValueError(f"findings has {len(findings)} entries: one for each of {len(cases)} cases is accepted")
    if len({case.units for case in cases}) > 1:
        raise ValueError("cases are in several units or atmospheres: cases of one plant are accepted")
    sheet = _CommonSheet(cases, head, translate)
    return render("instruments/common_sheet_pdf.html", sheet.context(findings))


def common_sheet_pdf(
    cases: Sequence[Case],
    head: SheetHead,
    findings: Sequence[Sequence[FindingText]],
    translate: Translate = str,
) -> bytes:
    """One sheet for several tags as PDF; lies across where its table is too wide to stand. Equal input, equal bytes.

    cases      the measurements, two or more of one plant, in the order of the table
    head       the title block
    findings   for each case its findings, described, worst first; those that remain print by their titles
    translate  turns an English text into the reader's language

    Raises ValueError for fewer than two cases, for findings of another number, for cases in different units.
    """
    html = common_sheet_html(cases, head, findings, translate)
    return html_to_pdf(html, common_sheet_metadata(cases, head, translate), STYLESHEETS)


def common_sheet_metadata(cases: Sequence[Case], head: SheetHead, translate: Translate = str) -> Metadata:
    """What the PDF says about itself."""
    named_by = [head.document_number, head.title]
    words = (*(case.tag.text("text") for case in cases), cases[0].plant.text("code"), head.document_number)
    return Metadata(
        title=" – ".join(part for part in named_by if part) or translate(head.document_type),
        subject=translate(head.document_type),
        keywords=tuple(word for word in words if word),
        language=head.language,
        author=head.creator,
    )


@dataclass(frozen=True, slots=True)
class _Difference:
    """A field that is not the same for all cases, with its text in each."""

    place: Place
    one: FieldDef
    label: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _CommonSheet:
    cases: Sequence[Case]
    head: SheetHead
    translate: Translate

    def context(self, findings: Sequence[Sequence[FindingText]]) -> Block:
        """Everything that the template names."""
        translate = self.translate
        rows = [SheetRows(case, translate, Footnotes(), blanks=False) for case in self.cases]
        places = [_rows_of(one) for one in rows]
        differences = self._differences(rows, places)
        table = self._table(differences, findings)
        head = replace(self.head, landscape=len(abreast(table, room_mm(self.head))) > 1)
        columns = LANDSCAPE if head.landscape else PORTRAIT
        footnotes = Footnotes()
        shared = _common_case(self.cases[0], places, differences, translate)
        common = SheetRows(shared, translate, footnotes, blanks=False)
        groups = self._groups(common, head, columns)
        groups += named(translate(EACH_TAG), grid_blocks(table, head, columns, translate))
        lines = self._lines(findings)
        notes = [("", levels_from(common.case, translate)), *footnotes.lines()]
        return {
            **frame(head, translate),
            "title": common_sheet_metadata(self.cases, head, translate).title,
            "tag": translate(TAGS).format(first=self._tags[0], last=self._tags[-1], count=len(self.cases)),
            "hold": common.holds(),
            "groups": groups,
            "remaining": lines,
            "settled": "" if lines else translate(NO_FINDING),
            "notes": [note for note in notes if note[1]],
        }

    @property
    def _tags(self) -> list[str]:
        return [case.tag.text("text") for case in self.cases]

    def _groups(self, common: SheetRows, head: SheetHead, columns: Columns) -> list[Block]:
        """What all share, in the registry's groups."""
        blocks: list[Block] = []
        for group, name in GROUPS:
            media = common.media() if group == "medium" else []
            found = [pairs_block("", pairs, columns) for pairs in (*media, common.pairs(group)) if pairs]
            for grid in _tables(group, common):
                found += grid_blocks(grid, head, columns, self.translate)
            blocks += named(self.translate(name), found)
        return blocks

    # --- what differs ---------------------------------------------------------------------------------

    def _differences(self, rows: Sequence[SheetRows], places: Sequence[dict[Place, Row]]) -> list[_Difference]:
        """In the order of the registry's groups."""
        every = {place: None for one in places for place in one}
        several = {entity: sum(place[0] == entity for place in every) > 1 for entity in (*TABLES, "medium")}
        found = []
        for group, _name in GROUPS:
            for place in every:
                for one in _compared(place[0], group):
                    texts = tuple(
                        shown.whole_text(one, held[place]) if place in held else ""
                        for shown, held in zip(rows, places, strict=True)
                    )
                    if len(set(texts)) > 1:
                        name = self._row_name(place) if several.get(place[0]) else ""
                        label = self.translate(one.label)
                        found.append(_Difference(place, one, f"{name}: {label}" if name else label, texts))
        return found

    def _row_name(self, place: Place) -> str:
        """What a reader calls one of several rows."""
        entity, name = place
        if entity == "nozzle":
            roles = dict(ROLES.get(self.cases[0].measurement.text("arrangement"), ()))
            return self.translate(roles.get(name, name))
        if entity in ("medium", "internal"):
            return self.translate(MEDIUM if entity == "medium" else INTERNAL).format(number=name)
        return name

    def _table(self, differences: Sequence[_Difference], findings: Sequence[Sequence[FindingText]]) -> Grid:
        columns = [
            (self.translate(TAG), *self._tags),
            *((one.label, *one.texts) for one in differences),
            (self.translate(REMAINING_FINDINGS), *(_counted(one) for one in findings)),
        ]
        heads, *lines = zip(*columns, strict=True)
        return Grid(heads, tuple(lines))

    def _lines(self, findings: Sequence[Sequence[FindingText]]) -> list[FindingLine]:
        """A line for each finding that remains, with the tags that it remains of."""
        first: dict[tuple[int, str], FindingText] = {}
        tags: dict[tuple[int, str], list[str]] = {}
        for tag, own in zip(self._tags, findings, strict=True):
            for one in own:
                if one.finding.grade in REMAINING:
                    key = (one.finding.grade.rank, one.title)
                    first.setdefault(key, one)
                    if tag not in tags.setdefault(key, []):
                        tags[key].append(tag)
        lines = []
        for key in sorted(first, key=lambda key: key[0]):
            one, of_all = first[key], len(tags[key]) == len(self.cases)
            text = self.translate(ALL_TAGS) if of_all else ", ".join(tags[key])
            grade = one.finding.grade
            lines.append(FindingLine(grade.value, REMAINING[grade], one.grade_label, f"{one.title}:", text))
        return lines


def _tables(group: str, common: SheetRows) -> Iterator[Grid]:
    if group == "medium":
        yield from common.operating_cases()
    table = {"vessel": common.internals, "connection": common.connections, "setpoints": lambda: common.setpoints({})}
    grid = table[group]() if group in table else None
    if grid is not None:
        yield grid


def _compared(entity: str, group: str) -> list[FieldDef]:
    return [one for one in REGISTRY.in_group(group) if one.entity == entity and one.key not in KNOWN_BY]


def _rows_of(rows: SheetRows) -> dict[Place, Row]:
    """All rows of a case by their places. Of rows with equal names the second is "… 2"."""
    case = rows.case
    found: dict[Place, Row] = {(entity, ""): row for entity, row in rows.single_rows()}
    numbered = [("medium", case.media), ("internal", case.internals)]
    many = [("nozzle", row.text("role"), row) for row in case.connections]
    many += [(entity, str(number), row) for entity, own in numbered for number, row in enumerate(own, start=1)]
    many += [("case", rows.case_name(row), row) for row in case.operating_cases]
    many += [("setpoint", row.text("name"), row) for row in case.setpoints]
    for entity, name, row in many:
        number, place = 1, (entity, name)
        while place in found:
            number += 1
            place = (entity, f"{name} {number}")
        found[place] = row
    return found


def _common_case(
    case: Case, places: Sequence[dict[Place, Row]], differences: Sequence[_Difference], translate: Translate
) -> Case:
    """The first case with what all share. In the rows of tables, a field that differs says "per tag"."""
    differing: dict[Place, set[str]] = {}
    for one in differences:
        companion = companion_of(one.one)
        silent = {companion.stem} if companion and not companion.prints else set()
        differing.setdefault(one.place, set()).update({one.one.stem}, silent)
    per_tag = translate(PER_TAG)

    def shared(place: Place) -> Row:
        row, out = places[0][place], differing.get(place, set())
        values: dict[str, Value] = {stem: value for stem, value in row.values.items() if stem not in out}
        if place[0] in TABLES:
            values.update({stem: per_tag for stem in out if stem in row.values})
        return Row(row.uid, values)

    def shared_rows(entity: str) -> tuple[Row, ...]:
        """Rows that every case has and of which something is shared."""
        own = [place for place in places[0] if place[0] == entity and all(place in one for one in places)]
        none: set[str] = set()
        return tuple(
            shared(place) for place in own if _has_shared(places[0][place], entity, differing.get(place, none))
        )

    sensor_class = case.sensor_class
    if sensor_class is not None:
        out = differing.get(("sensor_class", ""), set())
        kept = {stem: held for stem, held in sensor_class.values.items() if stem not in out}
        # A class that differs is named in the table.
        name = "" if "sensor_class" in differing.get(("measurement", ""), set()) else sensor_class.name
        sensor_class = replace(sensor_class, name=name, values=kept)
    tag = shared(("tag", ""))
    return replace(
        case,
        plant=shared(("plant", "")),
        unit=shared(("unit", "")),
        tag=Row(tag.uid, {stem: value for stem, value in tag.values.items() if stem != "text"}),
        vessel=shared(("vessel", "")),
        measurement=shared(("measurement", "")),
        connections=shared_rows("nozzle"),
        media=shared_rows("medium"),
        operating_cases=shared_rows("case"),
        setpoints=shared_rows("setpoint"),
        internals=shared_rows("internal"),
        sensor_class=sensor_class,
    )


def _has_shared(row: Row, entity: str, out: set[str]) -> bool:
    return any(
        row.text(one.stem) and one.stem not in out and one.prints and one.key not in KNOWN_BY
        for one in REGISTRY.of(entity)
    )


def _counted(findings: Sequence[FindingText]) -> str:
    """How many findings remain of each grade: "1 Stop, 2 Caution"."""
    counts: dict[str, int] = {}
    for one in findings:
        if one.finding.grade in REMAINING:
            counts[one.grade_label] = counts.get(one.grade_label, 0) + 1
    return ", ".join(f"{count} {label}" for label, count in counts.items())
