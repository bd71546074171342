"""Family "records": connections that other measurements use as well."""

import pytest

from instruments.checks.finding import Grade
from tests.checks.builders import finding_of, make_case, make_legs_case

CODE = "records.shared_connection"


def test_a_connection_of_its_own():
    for case in (make_case(), make_legs_case()):
        assert (finding_of(case, CODE).grade, finding_of(case, CODE).variant) == (Grade.PASS, "ok")


def test_a_shared_nozzle_is_a_caution_that_names_the_tags():
    finding = finding_of(make_case(shared={"sensor": "60-LT-6002, 60-LZT-6003"}), CODE)
    assert (finding.grade, finding.variant) == (Grade.CAUTION, "shared")
    assert finding.params == {"nozzles": "N3", "tags": "60-LT-6002, 60-LZT-6003"}
    assert finding.fields[0] == "measurement.nozzle"


def test_of_two_taps_each_one_counts():
    both = finding_of(make_legs_case(shared={"upper": "LT-2, LT-3", "lower": "LT-2"}), CODE)
    assert both.params == {"nozzles": "N5, N6", "tags": "LT-2, LT-3"}
    one = finding_of(make_legs_case(shared={"lower": "LT-2"}), CODE)
    assert (one.grade, one.params["nozzles"]) == (Grade.CAUTION, "N6")
    assert one.fields[:2] == ("measurement.nozzle_upper", "measurement.nozzle_lower")


@pytest.mark.parametrize("key", ["measurement.safety_function", "measurement.redundancy", "tag.voting_group"])
def test_where_independence_is_claimed_it_says_so(key):
    claimed = finding_of(make_case({key: "1oo2 with LT-6002"}, shared={"sensor": "LT-6002"}), CODE)
    assert (claimed.grade, claimed.variant) == (Grade.CAUTION, "shared_claimed")
    assert key in claimed.fields
    assert finding_of(make_case({key: "1oo2 with LT-6002"}), CODE).grade is Grade.PASS
