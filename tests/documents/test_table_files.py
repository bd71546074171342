"""CSV and XLSX: numbers stay numbers, texts stay texts, equal tables give equal bytes."""

import csv
import io
import math

import openpyxl  # type: ignore[import-untyped]
import pytest

from project.documents.table_files import FileColumn, TableFile, neutral, to_csv, to_xlsx

TABLE = TableFile(
    "Capacity of T-4001 [main]/north: a long name that no sheet can have",
    (FileColumn("Level", "m", 3), FileColumn("Volume", "m³", 2), FileColumn("Remark")),
    [[0.0, 0.0, "=1+1"], [1.25, 15.70796326794897, "−5 is a number"], [-0.5, None, "-12.5"], [2.0, 1e-9, "Ψ наверх"]],
    notes=("=cmd()", "Levels count from the datum."),
)


def sheet_rows() -> list[tuple[object, ...]]:
    book = openpyxl.load_workbook(io.BytesIO(to_xlsx(TABLE)))
    return list(book.worksheets[0].iter_rows(values_only=True))


def test_xlsx_keeps_numbers_as_numbers_and_runs_no_text() -> None:
    rows = sheet_rows()
    assert rows[0] == ("Level (m)", "Volume (m³)", "Remark")
    assert rows[1] == (0, 0, "=1+1")
    assert rows[2][1] == pytest.approx(15.70796326794897, rel=1e-15)
    assert rows[3] == (-0.5, None, "-12.5")
    book = openpyxl.load_workbook(io.BytesIO(to_xlsx(TABLE)))
    cell = book.worksheets[0].cell(2, 3)
    assert (cell.data_type, cell.value) == ("s", "=1+1")
    assert book.worksheets[0].freeze_panes == "A2"
    assert book.worksheets[1].cell(1, 1).data_type == "s"


def test_a_name_that_no_sheet_can_have_is_cut_to_one_that_it_can() -> None:
    title = openpyxl.load_workbook(io.BytesIO(to_xlsx(TABLE))).worksheets[0].title
    assert len(title) <= 31
    assert not set(title) & set("[]:*?/\\'")


def test_csv_reads_back_with_neutral_texts() -> None:
    data = to_csv(TABLE)
    assert data.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert rows[0] == ["'=cmd()"]
    assert rows[2] == ["Level (m)", "Volume (m³)", "Remark"]
    assert rows[3] == ["0", "0", "'=1+1"]
    assert rows[5] == ["-0.5", "", "-12.5"]
    assert math.isclose(float(rows[4][1]), 15.70796326794897, rel_tol=1e-11)


@pytest.mark.parametrize("text", ["=1", "+SUM(A1)", "-A1", "@x", "\tx"])
def test_what_would_run_gets_an_apostrophe(text: str) -> None:
    assert neutral(text) == "'" + text


@pytest.mark.parametrize("text", ["-12.5", "+3", "-1e-3", "12", "plain", ""])
def test_numbers_and_plain_texts_stay(text: str) -> None:
    assert neutral(text) == text


def test_equal_tables_give_equal_bytes() -> None:
    assert to_xlsx(TABLE) == to_xlsx(TABLE)
    assert to_csv(TABLE) == to_csv(TABLE)
