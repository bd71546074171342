"""Plain tables: searchable, sortable, paged by the server. Columns are registered, so that one entry adds one."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Paginator
from django.db.models import F, Q, QuerySet
from django.http import Http404, HttpRequest
from django.utils.translation import gettext as _

from project.quantities import PlantUnits, Quantity

PAGE_SIZE = 50


@dataclass(frozen=True, slots=True)
class Column:
    """A column: how to get its value from a row, and by what the database sorts.

    `get` returns a text or a Quantity; `kind` names the quantity, whose unit stands in the header.
    `template` names a partial that draws the cell (it gets `row`), for links and grades. A `code` stays on one line.
    """

    key: str
    label: str
    get: Callable[[Any], Any]
    sort: str = ""
    kind: str = ""
    template: str = ""
    code: bool = False


@dataclass(frozen=True, slots=True)
class Header:
    key: str
    label: str
    unit: str
    number: bool
    sortable: bool
    direction: str  # "ascending", "descending" or ""
    address: str


@dataclass(frozen=True, slots=True)
class Cell:
    text: str
    number: bool
    template: str
    code: bool


@dataclass(frozen=True, slots=True)
class TableSpec:
    """Columns, and the lookups that the free search looks in."""

    columns: tuple[Column, ...]
    search: tuple[str, ...]
    default_sort: str

    def column(self, key: str) -> Column | None:
        return next((column for column in self.columns if column.key == key), None)


@dataclass(slots=True)
class TablePage:
    """One page of a table, ready for the template."""

    headers: list[Header]
    rows: list[tuple[Any, list[Cell]]]
    total: int
    number: int
    pages: int
    first: int
    query: str
    sort: str
    filtered: bool
    previous: str = ""
    following: str = ""
    extra: dict[str, str] = field(default_factory=dict)


def _address(**parameters: Any) -> str:
    return "?" + urlencode({name: value for name, value in parameters.items() if value not in ("", None)})


def _order(spec: TableSpec, sort: str) -> list[Any]:
    column = spec.column(sort.lstrip("-"))
    if column is None or not column.sort:
        raise Http404(_("There is no column “%(column)s” to sort by.") % {"column": sort})
    by = F(column.sort)
    return [by.desc(nulls_last=True) if sort.startswith("-") else by.asc(nulls_last=True), "pk"]


def _cell(column: Column, row: Any, units: PlantUnits) -> Cell:
    value = column.get(row)
    if isinstance(value, Quantity):
        return Cell(units.shown(value, column.kind).number, True, column.template, column.code)
    return Cell(str(value if value is not None else ""), False, column.template, column.code)


def build_table(
    request: HttpRequest, queryset: "QuerySet[Any]", spec: TableSpec, units: PlantUnits, filters: Sequence[str] = ()
) -> TablePage:
    """The page of a table that a request asks for: `q` searches, `sort` sorts ("-urv" down), `page` pages.

    `filters` names further request parameters that the caller applied and that addresses must keep.
    Raises Http404 for a page or column that does not exist.
    """
    query = request.GET.get("q", "").strip()[:100]
    sort = request.GET.get("sort", "") or spec.default_sort
    extra = {name: request.GET.get(name, "") for name in filters if request.GET.get(name)}
    for word in query.replace("\x00", "").split():
        queryset = queryset.filter(Q(*[(f"{lookup}__icontains", word) for lookup in spec.search], _connector=Q.OR))
    paginator = Paginator(queryset.order_by(*_order(spec, sort)), PAGE_SIZE)
    asked = request.GET.get("page", "1")
    if not asked.isdecimal() or not 1 <= int(asked) <= paginator.num_pages:
        raise Http404(_("There is no page “%(page)s” of this list.") % {"page": asked[:20]})
    page = paginator.page(int(asked))
    headers = []
    for column in spec.columns:
        active = sort.lstrip("-") == column.key
        direction = ("descending" if sort.startswith("-") else "ascending") if active else ""
        turned = f"-{column.key}" if direction == "ascending" else column.key
        headers.append(
            Header(
                column.key,
                _(column.label),
                units.unit(column.kind) if column.kind else "",
                bool(column.kind),
                bool(column.sort),
                direction,
                _address(q=query, sort=turned, **extra),
            )
        )
    return TablePage(
        headers=headers,
        rows=[(row, [_cell(column, row, units) for column in spec.columns]) for row in page.object_list],
        total=paginator.count,
        number=page.number,
        pages=paginator.num_pages,
        first=page.start_index(),
        query=query,
        sort=sort,
        filtered=bool(query or extra),
        previous=_address(q=query, sort=sort, page=page.number - 1, **extra) if page.has_previous() else "",
        following=_address(q=query, sort=sort, page=page.number + 1, **extra) if page.has_next() else "",
        extra=extra,
    )
