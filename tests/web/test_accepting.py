"""Accepting a caution on its page: the form, its refusals, who may, and where the acceptance shows."""

import html
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from instruments.models import Acceptance, Measurement
from project.accounts.models import Membership, Role
from project.registry import REGISTRY
from tests.accepting import CODE, PLACE, REASON, accept, change, make_cautioned
from tests.documents.sheet_reading import squeezed
from tests.documents.sheet_reading import text_of as pdf_text
from tests.factories import actor_of, make_measurement, make_plant, make_user
from tests.web.pages import form_values
from vessels.models import Plant

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    return make_cautioned(plant)


def address(measurement: Measurement, name: str = "finding_view", code: str = CODE, place: str = PLACE) -> str:
    return f"{reverse(name, args=[measurement.uid, code])}?place={place}"


def text_of(response: Any) -> str:
    return html.unescape(response.content.decode())


def send(client: Client, measurement: Measurement, **changes: str) -> Any:
    """Open the page, fill in the reason, send the form."""
    values = form_values(client, address(measurement)) | {"reason": REASON, "accept": "1"} | changes
    return client.post(address(measurement, "finding_accept"), values)


def test_accepting_shows_on_the_page_the_reading_page_and_the_sheet(
    logged_in: Client, measurement: Measurement
) -> None:
    viewed = reverse("measurement_view", args=[measurement.uid])
    assert "Accept with a reason" in text_of(logged_in.get(viewed))
    response = send(logged_in, measurement)
    assert response.status_code == 302
    assert response.headers["Location"] == f"{viewed}#finding-{CODE}-{PLACE}"
    row = Acceptance.objects.get()
    told = f"{REASON} (the-originator, {row.accepted_at:%Y-%m-%d})"
    for page in (viewed, reverse("measurement_edit", args=[measurement.uid]), address(measurement)):
        assert told in text_of(logged_in.get(page))
    assert "(1 accepted)" in text_of(logged_in.get(viewed))
    assert squeezed(f"Accepted: {told}") in sheet(logged_in, measurement)
    change(measurement, urv="9.45 m")
    assert squeezed(REASON) not in sheet(logged_in, measurement)
    lapsed = text_of(logged_in.get(viewed))
    assert "Accepted before, lapsed:" in lapsed
    assert told in lapsed
    assert f"Changed since: {REGISTRY['measurement.urv'].label}." in lapsed


def sheet(client: Client, measurement: Measurement) -> str:
    """The datasheet's text without blanks."""
    return pdf_text(client.get(reverse("measurement_datasheet", args=[measurement.uid])).content)


def test_a_reason_of_several_lines_becomes_one(logged_in: Client, measurement: Measurement) -> None:
    assert send(logged_in, measurement, reason="  Agreed with\r\n\r\n operations. ").status_code == 302
    assert Acceptance.objects.get().reason == "Agreed with operations."


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"reason": ""}, "This field is required."),
        ({"reason": "too short"}, "Say why in 10 to 300 characters; this has 9."),
        ({"reason": "x" * 301}, "Say why in 10 to 300 characters; this has 301."),
        ({"reason": "bad \x00 character"}, "Null characters are not allowed."),
        ({"digest": "0" * 64}, "was changed since you opened the page"),
        ({"digest": ""}, "This field is required."),
        ({"version": "x"}, "Enter a whole number."),
        ({"version": "99999999999999999999"}, "less than or equal to"),
    ],
)
def test_refusals_say_what_would_be_accepted_and_keep_the_typing(
    logged_in: Client, measurement: Measurement, changes: dict[str, str], says: str
) -> None:
    response = send(logged_in, measurement, **changes)
    page = text_of(response)
    assert response.status_code == 422
    assert "<b>Not accepted.</b>" in page
    assert says in page
    assert changes.get("reason", REASON)[:4] in page
    assert not Acceptance.objects.exists()


@pytest.mark.parametrize(
    ("values", "code", "place", "says"),
    [
        ({"urv": "10.2 m"}, "signal.span_inside", "urv", "A stop cannot be accepted"),
        ({"urv": ""}, "signal.span_order", "urv", "What is missing cannot be accepted"),
    ],
)
def test_stop_and_missing_have_no_form_and_a_forged_one_is_refused(
    logged_in: Client, plant: Plant, values: dict[str, str], code: str, place: str, says: str
) -> None:
    measurement = make_measurement(plant, **values)
    page = text_of(logged_in.get(address(measurement, "finding_view", code, place)))
    assert says in page
    assert "<textarea" not in page
    forged = {"reason": REASON, "digest": "0" * 64, "version": "0"}
    response = logged_in.post(address(measurement, "finding_accept", code, place), forged)
    assert response.status_code == 422
    assert text_of(response).count(says) == 2
    assert not Acceptance.objects.exists()


@pytest.mark.parametrize(
    ("code", "place"), [("no.such", PLACE), (CODE, "setpoint-LL"), (CODE, ""), (CODE, "%00"), ("%3Cb%3E", "x")]
)
def test_what_no_check_says_has_no_page(logged_in: Client, measurement: Measurement, code: str, place: str) -> None:
    url = f"{reverse('measurement_view', args=[measurement.uid])}findings/{code}/"
    assert logged_in.get(f"{url}?place={place}").status_code == 404
    assert logged_in.post(f"{url}accept/?place={place}", {"reason": REASON}).status_code == 404


@pytest.mark.parametrize("role", list(Role))
def test_every_role_sees_who_accepted_and_originators_alone_accept(
    client: Client, plant: Plant, measurement: Measurement, role: Role
) -> None:
    accept(measurement, actor_of(make_user("ada", first_name="Ada", last_name="Example")))
    person = make_user()
    Membership.objects.create(user=person, plant=plant, role=role)
    client.force_login(person)
    for page in (reverse("measurement_view", args=[measurement.uid]), address(measurement)):
        shown = text_of(client.get(page))
        assert f"{REASON} (Ada Example" in shown
        assert ("Accept again" in shown or "Renew or withdraw" in shown) is (role is Role.ORIGINATOR)
    response = client.post(address(measurement, "finding_accept"), {"withdraw": "1", "version": "1"})
    assert response.status_code == (302 if role is Role.ORIGINATOR else 403)
    assert Acceptance.objects.get().withdrawn is (role is Role.ORIGINATOR)


def test_another_plants_originator_gets_404(client: Client, measurement: Measurement) -> None:
    accept(measurement)
    stranger = make_user()
    make_plant("OTHER", members={stranger: tuple(Role)})
    client.force_login(stranger)
    response = client.post(address(measurement, "finding_accept"), {"withdraw": "1", "version": "1"})
    assert response.status_code == 404
    assert not Acceptance.objects.get().withdrawn


def test_two_people_at_once(logged_in: Client, plant: Plant, measurement: Measurement) -> None:
    colleague = make_user("colleague")
    Membership.objects.create(user=colleague, plant=plant, role=Role.ORIGINATOR)
    second = Client()
    second.force_login(colleague)
    mine = form_values(second, address(measurement)) | {"reason": "My own good reason."}
    assert send(logged_in, measurement).status_code == 302
    response = second.post(address(measurement, "finding_accept"), mine)
    page = text_of(response)
    assert response.status_code == 409
    assert "the-originator judged this finding since you opened the page" in page
    assert REASON in page
    assert "My own good reason." in page
    assert Acceptance.objects.get().reason == REASON
    # Sent once more, in sight of the other's reason, it is a decision.
    fields = ("digest", "version")
    again = mine | {name: value_in(page, name) for name in fields}
    assert second.post(address(measurement, "finding_accept"), again).status_code == 302
    assert Acceptance.objects.get().reason == "My own good reason."


def value_in(page: str, name: str) -> str:
    """The value of the first hidden input of a name: that of the form that accepts."""
    return page.split(f'name="{name}"', 1)[1].split('value="', 1)[1].split('"', 1)[0]


def test_withdrawing_once_is_enough(logged_in: Client, measurement: Measurement) -> None:
    accept(measurement)
    stale = logged_in.post(address(measurement, "finding_accept"), {"withdraw": "1", "version": "7"})
    assert stale.status_code == 409
    assert "Nothing was changed." in text_of(stale)
    for version, status in (("1", 302), ("2", 409)):
        response = logged_in.post(address(measurement, "finding_accept"), {"withdraw": "1", "version": version})
        assert response.status_code == status
    page = text_of(logged_in.get(address(measurement)))
    assert "The acceptance was withdrawn." in page
    assert [word for word in ("Withdrawn", "Accepted") if f"<td>{word}</td>" in page] == ["Withdrawn", "Accepted"]


def test_with_unsaved_typing_it_says_save_first_and_shows_what_would_lapse(
    logged_in: Client, measurement: Measurement
) -> None:
    accept(measurement)
    edit = reverse("measurement_edit", args=[measurement.uid])
    assert "from=edit" in text_of(logged_in.get(edit))
    values = form_values(logged_in, edit) | {"measurement-urv": "9.45"}
    preview = logged_in.post(reverse("measurement_preview", args=[measurement.uid]), values, headers=HTMX)
    page = text_of(preview)
    assert "Save first: what is accepted is what is saved." in page
    assert "Accepted before, but not as it stands here:" in page
    assert "Accept again" not in page
    assert "Renew or withdraw" not in page


def test_the_way_back_is_one_of_two_pages(logged_in: Client, measurement: Measurement) -> None:
    edit, view = (reverse(f"measurement_{name}", args=[measurement.uid]) for name in ("edit", "view"))
    anchor = f"#finding-{CODE}-{PLACE}"
    assert f'href="{edit}{anchor}"' in text_of(logged_in.get(f"{address(measurement)}&from=edit"))
    assert f'href="{view}{anchor}"' in text_of(logged_in.get(f"{address(measurement)}&from=//elsewhere.example"))


def test_findings_stand_by_family_under_headings(logged_in: Client, measurement: Measurement) -> None:
    page = text_of(logged_in.get(reverse("measurement_view", args=[measurement.uid])))
    panel = page[page.index('<div id="findings">') : page.index('id="settled"')]
    heading = panel.index("<h3>Setpoints")
    assert "grade-caution" in panel[heading : panel.index("</h3>", heading)]
    assert heading < panel.index(f'id="finding-{CODE}-{PLACE}"')
