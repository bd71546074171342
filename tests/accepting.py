"""A measurement with one caution to accept: its high setpoint lies beyond the span, within the measuring current."""

from typing import Any

from instruments.checks.basis import basis_of, digest_of
from instruments.checks.registry import run_checks
from instruments.models import Acceptance, Measurement
from instruments.services.acceptances import accept_finding, finding_at
from instruments.services.cases import build_case, with_all_inputs
from project.actor import Actor
from project.services import save_row
from tests.factories import actor_of, make_measurement
from vessels.models import Plant

CODE, PLACE = "setpoints.inside_span", "setpoint-H"
REASON = "Operators agreed: the alarm still reads above the span."


def make_cautioned(plant: Plant, **values: Any) -> Measurement:
    return make_measurement(plant, setpoints=({"name": "H", "level": "9.6 m"},), **values)


def digest(measurement: Measurement, code: str = CODE, place: str = PLACE) -> str:
    """What a person who opens the finding's page has in sight."""
    case = build_case(with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get())
    return digest_of(basis_of(case, finding_at(run_checks(case), code, place)))


def accept(measurement: Measurement, actor: Actor | None = None, **changes: Any) -> Acceptance:
    asked: dict[str, Any] = {"code": CODE, "place": PLACE, "reason": REASON, "expected_version": 0, **changes}
    if "digest" not in asked:
        asked["digest"] = digest(measurement, asked["code"], asked["place"])
    return accept_finding(actor or actor_of(), measurement, **asked)


def change(measurement: Measurement, **texts: str) -> None:
    """Save fields of the measurement, as typed."""
    row = Measurement.objects.get(pk=measurement.pk)
    definitions = {one.stem: one for one in row.field_defs()}
    units = row.plant.units
    values = {
        stem: units.parse(text, definitions[stem].kind) if definitions[stem].is_quantity else text
        for stem, text in texts.items()
    }
    save_row(actor_of(), row, row.version, values)
