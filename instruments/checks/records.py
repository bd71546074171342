"""Family "records": what the rows of the plant say of one another."""

from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Finding, Grade
from instruments.checks.frame import Frame
from instruments.checks.support import PRACTICE, not_applicable, unique

SHARED = "shared_with"  # of a connection: the tags of other measurements on its nozzle, "" for none

# What claims that a measurement does not fail together with another one.
INDEPENDENCE = ("measurement.safety_function", "measurement.redundancy", "tag.voting_group")


def shared_connection(case: Case, frame: Frame) -> Finding:
    """Every connection serves this measurement alone; a caution where another one of the plant uses it too.

    What plugs, closes or is taken out for work takes all that share a connection; whether that may be, a person judges.
    """
    code, fields = "records.shared_connection", _fields(case)
    if not case.connections:
        return not_applicable(code, "none", fields)
    if any(SHARED not in row.values for row in case.connections):
        return not_applicable(code, "unknown", fields)
    shared = [row for row in case.connections if row.text(SHARED)]
    if not shared:
        return Finding(code, Grade.PASS, "ok", fields=fields, place="nozzle")
    claims = any(_claim(case, key) for key in INDEPENDENCE)
    return Finding(
        code,
        Grade.CAUTION,
        "shared_claimed" if claims else "shared",
        params={
            "nozzles": ", ".join(_mark(row) for row in shared),
            "tags": ", ".join(unique(tag for row in shared for tag in row.text(SHARED).split(", "))),
        },
        source=PRACTICE,
        cures=(Cure("own_connection"),),
        fields=(*fields, *INDEPENDENCE),
        place="nozzle",
    )


def _fields(case: Case) -> tuple[str, ...]:
    roles = (row.text("role") for row in case.connections)
    return unique("measurement.nozzle" if role == "sensor" else f"measurement.nozzle_{role}" for role in roles)


def _mark(row: Row) -> str:
    return row.text("mark") or row.text("role")


def _claim(case: Case, key: str) -> str:
    entity, _, stem = key.partition(".")
    return (case.tag if entity == "tag" else case.measurement).text(stem).strip()
