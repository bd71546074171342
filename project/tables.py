"""Plain tables: searchable, sortable, paged by the server. Columns are registered, so that one entry adds one."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Paginator
from django.db.models import F, Q, QuerySet
from django.db.models.expressions import Combinable
from django.http import Http404, HttpRequest
from django.utils.translation import gettext as _

from project.natural_order import natural_key
from project.quantities import PlantUnits, Quantity

PAGE_SIZE = 50


@dataclass(frozen=True, slots=True)
class Column:
    """A column: how to get its value from a row, and by what the database sorts.

    `get` returns a text or a Quantity; `kind` names the quantity, whose unit stands in the header: every cell of the
    column is in that unit, whatever was typed. `sort` is a lookup or an expression; a `natural` column counts (N2
    before N10), which the database cannot, so that it is for lists of thousands of rows at most.
    `template` names a partial that draws the cell (it gets `row`), for links and grades. A `code` stays on one line.
    """

    key: str
    label: str
    get: Callable[[Any], Any]
    sort: str | Combinable = ""
    kind: str = ""
    template: str = ""
    code: bool = False
    natural: bool = False


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


def _sorted(queryset: "QuerySet[Any]", spec: TableSpec, sort: str) -> Any:
    """The rows in the order asked for: a queryset, or the keys of the rows where the order is not the database's."""
    column = spec.column(sort.removeprefix("-"))
    if column is None or not column.sort:
        raise Http404(_("There is no column “%(column)s” to sort by.") % {"column": sort})
    down = sort.startswith("-")
    if column.natural:
        pairs = sorted(queryset.order_by("pk").values_list("pk", column.sort), key=lambda pair: natural_key(pair[1]))
        return [key for key, _text in (reversed(pairs) if down else pairs)]
    by: Any = F(column.sort) if isinstance(column.sort, str) else column.sort
    return queryset.order_by(by.desc(nulls_last=True) if down else by.asc(nulls_last=True), "pk")


def _rows(queryset: "QuerySet[Any]", found: Any) -> list[Any]:
    """The rows of a page, which holds either the rows or their keys."""
    if isinstance(found, QuerySet):
        return list(found)
    rows = queryset.in_bulk(found)
    return [rows[key] for key in found if key in rows]


def _cell(column: Column, row: Any, units: PlantUnits) -> Cell:
    value = column.get(row)
    if isinstance(value, Quantity):
        shown = units.shown(value, column.kind)
        if value.si is not None and shown.unit != units.unit(column.kind):
            # Shown as typed elsewhere (minutes, feet and inches); under a header only the header's unit will do.
            shown = units.shown_si(value.si, column.kind)
        return Cell(shown.number, True, column.template, column.code)
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
    paginator = Paginator(_sorted(queryset, spec, sort), PAGE_SIZE)
    asked = request.GET.get("page", "1")
    if not asked.isdecimal() or not 1 <= int(asked) <= paginator.num_pages:
        raise Http404(_("There is no page “%(page)s” of this list.") % {"page": asked[:20]})
    page = paginator.page(int(asked))
    headers = []
    for column in spec.columns:
        active = sort.removeprefix("-") == column.key
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
    rows = _rows(queryset, page.object_list)
    return TablePage(
        headers=headers,
        rows=[(row, [_cell(column, row, units) for column in spec.columns]) for row in rows],
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
