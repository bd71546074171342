"""Family "signal": the span."""

import pytest

from instruments.checks.finding import Grade
from tests.checks.builders import finding_of, make_case


@pytest.mark.parametrize(
    "lrv, urv, grade, variant",
    [
        ("0.5 m", "0.500000001 m", Grade.PASS, "ok"),
        ("0.5 m", "0.5 m", Grade.STOP, "equal"),
        ("0.5 m", "500 mm", Grade.STOP, "equal"),
        ("0.5 m", "0.499999999 m", Grade.STOP, "reversed"),
        ("12 m", "0.5 m", Grade.STOP, "reversed"),
        ("0 m", "0 m", Grade.STOP, "equal"),
    ],
)
def test_order_of_the_span(lrv, urv, grade, variant):
    finding = finding_of(make_case({"measurement.lrv": lrv, "measurement.urv": urv}), "signal.span_order")
    assert (finding.grade, finding.variant) == (grade, variant)
    assert (finding.margin_si > 0) is (grade is Grade.PASS)


@pytest.mark.parametrize("key", ["measurement.lrv", "measurement.urv"])
def test_order_missing(key):
    finding = finding_of(make_case({key: None}), "signal.span_order")
    assert (finding.grade, finding.missing) == (Grade.MISSING, (key,))


@pytest.mark.parametrize(
    "datum, stem, level, grade, variant",
    [
        ("lowest_inside_point", "lrv", 0.0, Grade.PASS, "ok"),
        ("lowest_inside_point", "lrv", -1e-9, Grade.STOP, "below_bottom"),
        ("bottom_tangent_line", "lrv", -0.6, Grade.PASS, "ok"),
        ("bottom_tangent_line", "lrv", -0.600000001, Grade.STOP, "below_bottom"),
        ("lowest_inside_point", "urv", 12.6, Grade.PASS, "ok"),
        ("lowest_inside_point", "urv", 12.600000001, Grade.STOP, "above_roof"),
        ("bottom_tangent_line", "urv", 12.0, Grade.PASS, "ok"),
        ("bottom_tangent_line", "urv", 12.000000001, Grade.STOP, "above_roof"),
        ("lowest_inside_point", "lrv", 13.0, Grade.STOP, "above_roof"),
        ("lowest_inside_point", "urv", -2.0, Grade.STOP, "below_bottom"),
    ],
)
def test_span_inside_the_vessel(datum, stem, level, grade, variant):
    case = make_case({"vessel.datum": datum, f"measurement.{stem}": f"{level!r} m"})
    finding = finding_of(case, "signal.span_inside", place=stem)
    assert (finding.grade, finding.variant) == (grade, variant)
    assert (finding.margin_si < 0) is (grade is Grade.STOP)
    if grade is Grade.STOP:
        cure = finding.cures[0]
        cured = make_case({"vessel.datum": datum, f"measurement.{stem}": f"{cure.value_si!r} m"})
        assert finding_of(cured, "signal.span_inside", place=stem).grade is Grade.PASS


@pytest.mark.parametrize(
    "changes, missing",
    [
        ({"measurement.urv": None}, "measurement.urv"),
        ({"vessel.cylinder_height": None}, "vessel.cylinder_height"),
        ({"vessel.datum": "dip_plate"}, "vessel.dip_plate_height"),
    ],
)
def test_span_inside_missing(changes, missing):
    finding = finding_of(make_case(changes), "signal.span_inside", place="urv")
    assert finding.grade is Grade.MISSING
    assert missing in finding.missing
