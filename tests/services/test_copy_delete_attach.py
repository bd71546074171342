"""Copying, deleting with blockers listed, and attachments."""

from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from instruments.models import Document, Measurement, Setpoint, Tag
from instruments.services.measurements import copy_measurement
from project.accounts.models import Role
from project.services import Blocked, StaleEdit, blockers_of, delete_row
from tests.factories import actor_of, make_measurement, make_nozzle, make_plant, make_user, make_vessel
from tests.web.pages import send
from vessels.file_kinds import LARGEST_BYTES, UnacceptableFile, sniff
from vessels.models import Attachment, AttachmentBytes, Medium, Nozzle, OperatingCase, Plant, Vessel
from vessels.services import attach, attachments_of, copy_vessel

pytestmark = pytest.mark.django_db
PDF = b"%PDF-1.7\n%test\n"
PNG = b"\x89PNG\r\n\x1a\n" + b"\x00" * 20
JPEG = b"\xff\xd8\xff\xe0" + b"\x00" * 20


def without(row: Any, *own: str) -> dict[str, Any]:
    ignored = {"id", "uid", "version", *own}
    return {
        field.attname: getattr(row, field.attname)
        for field in row._meta.concrete_fields
        if field.name not in ignored and field.attname not in ignored
    }


def test_a_copied_vessel_carries_everything_but_number(plant: Plant) -> None:
    vessel = make_vessel(plant, design_code="EN 13445")
    make_nozzle(vessel, headroom="2 m")
    copy = copy_vessel(actor_of(), vessel, "T-COPY")
    assert without(copy, "number") == without(vessel, "number")
    assert copy.details["design_code"] == "EN 13445"
    assert copy.version == 1
    for manager in ("operating_cases", "nozzles"):
        ours, theirs = getattr(copy, manager).get(), getattr(vessel, manager).get()
        assert without(ours, "vessel") == without(theirs, "vessel")
        assert ours.uid != theirs.uid
    copy.details["design_code"] = "other"
    assert vessel.details["design_code"] == "EN 13445"


def test_a_copied_vessel_needs_a_number_of_its_own(plant: Plant) -> None:
    vessel = make_vessel(plant)
    with pytest.raises(ValidationError):
        copy_vessel(actor_of(), vessel, vessel.number)
    assert Vessel.objects.count() == 1


def test_a_copied_measurement_carries_everything_but_the_tag(plant: Plant) -> None:
    source = make_measurement(plant, housing_material="Aluminium", supply="24 V")
    copy = copy_measurement(actor_of(), source, "LT", "900", "B")
    assert without(copy, "tag") == without(source, "tag")
    assert copy.tag.text == "LT-900B"
    assert without(copy.tag, "letters", "number", "suffix", "near_key", "text") == without(
        source.tag, "letters", "number", "suffix", "near_key", "text"
    )
    assert copy.nozzles == {}, "two sensors on one nozzle, and nobody asked"
    assert [(row.name, row.level_typed) for row in copy.setpoints.all()] == [("H", "9 m")]
    assert Document.objects.filter(measurement=copy).count() == 1
    copy.state.refresh_from_db()
    assert (copy.state.worst_grade, copy.state.dirty) == ("missing", False)


def test_a_copy_takes_the_nozzle_that_it_is_given(plant: Plant) -> None:
    source = make_measurement(plant)
    free = make_nozzle(source.vessel)
    copy = copy_measurement(actor_of(), source, "LT", "900", "", {"sensor": free})
    assert (copy.nozzle, source.nozzle) == (free, Measurement.objects.get(pk=source.pk).nozzle)
    copy.state.refresh_from_db()
    assert (copy.state.worst_grade, copy.state.dirty) == (source.state.worst_grade, False)


def test_a_copy_that_would_be_a_near_duplicate_is_refused_whole(plant: Plant) -> None:
    source = make_measurement(plant)
    with pytest.raises(ValidationError, match="is the same as the existing tag"):
        copy_measurement(actor_of(), source, "LT", "0" + source.tag.number, "")
    assert (Tag.objects.count(), Measurement.objects.count(), Setpoint.objects.count()) == (1, 1, 1)


def test_copying_through_the_pages(logged_in: Client, plant: Plant) -> None:
    source = make_measurement(plant)
    response = send(logged_in, reverse("measurement_copy", args=[source.uid]), tag__number="901")
    assert response.status_code == 302
    assert Measurement.objects.filter(tag__text="LT-901").exists()
    response = send(logged_in, reverse("vessel_copy", args=[source.vessel.uid]), vessel__number="T-NEW")
    assert response.status_code == 302
    assert Vessel.objects.filter(number="T-NEW").exists()


def test_what_prevents_deletion_is_listed(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel, nozzle = measurement.vessel, measurement.nozzle
    medium = vessel.operating_cases.get().medium
    assert blockers_of(vessel) == [measurement, measurement.connections.get()] or measurement in blockers_of(vessel)
    for row, name in ((vessel, "vessel_delete"), (nozzle, "nozzle_delete"), (medium, "medium_delete")):
        with pytest.raises(Blocked):
            delete_row(actor_of(), row, row.version)
        url = reverse(name, args=[row.uid])
        page = logged_in.get(url).content.decode()
        assert "cannot be deleted yet" in page
        assert 'name="delete"' not in page
        assert logged_in.post(url, {"version": str(row.version)}).status_code == 409
        assert type(row).objects.filter(pk=row.pk).exists()


def test_deleting_frees_what_was_blocked_and_keeps_history_and_number(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel, number = measurement.vessel, Document.objects.get().number
    url = reverse("measurement_delete", args=[measurement.uid])
    assert logged_in.post(url, {"version": str(measurement.version)}).status_code == 302
    assert not Measurement.objects.exists()
    assert Tag.objects.filter(pk=measurement.tag_id).exists()
    assert Document.objects.get().number == number
    assert Measurement.history.filter(history_type="-").get().history_action.what == "delete measurement"
    delete_row(actor_of(), vessel, vessel.version)
    assert not Vessel.objects.exists()
    assert not Nozzle.objects.exists()
    assert not OperatingCase.objects.exists()
    assert Medium.objects.exists()
    second = make_measurement(plant)
    assert Document.objects.get(measurement=second).number != number


def test_deleting_a_row_that_somebody_just_saved_is_refused(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    with pytest.raises(StaleEdit):
        delete_row(actor_of(), vessel, vessel.version + 1)
    response = logged_in.post(reverse("vessel_delete", args=[vessel.uid]), {"version": "99"})
    assert response.status_code == 409
    assert "saved this meanwhile" in response.content.decode()
    assert Vessel.objects.exists()


@pytest.mark.parametrize(("data", "content_type"), [(PDF, "application/pdf"), (PNG, "image/png"), (JPEG, "image/jpeg")])
def test_file_kinds_are_told_by_their_first_bytes(data: bytes, content_type: str) -> None:
    """Signatures: ISO 32000-1 (PDF), ISO/IEC 15948 (PNG), ISO/IEC 10918-1 (JPEG)."""
    assert sniff(data)[0] == content_type


@pytest.mark.parametrize(
    "data", [b"", b"<html>", b"GIF89a", b"PK\x03\x04", b" %PDF-1.7", b"%PDF-" + b"x" * LARGEST_BYTES]
)
def test_other_files_are_refused(data: bytes) -> None:
    with pytest.raises(UnacceptableFile):
        sniff(data)


def test_attach_download_and_delete_through_the_pages(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    for name, owner in (("vessel_attach", measurement.vessel), ("measurement_attach", measurement)):
        url = reverse(name, args=[owner.uid])
        file = SimpleUploadedFile("../Zeichnung Ä\r\n1.exe", PDF, content_type="text/html")
        assert logged_in.post(url, {"file": file, "kind": "drawing", "title": "General arrangement"}).status_code == 302
        attachment = attachments_of(owner).get()
        assert (attachment.content_type, attachment.size) == ("application/pdf", len(PDF))
        answer = logged_in.get(reverse("attachment_download", args=[attachment.uid]))
        assert answer.content == PDF
        assert answer.headers["Content-Disposition"].startswith("attachment; filename=")
        assert answer.headers["Content-Disposition"].endswith('.pdf"')
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        view = reverse("vessel_view" if name == "vessel_attach" else "measurement_view", args=[owner.uid])
        assert "General arrangement" in logged_in.get(view).content.decode()
        delete = reverse("attachment_delete", args=[attachment.uid])
        assert logged_in.post(delete, {"version": "1"}).status_code == 302
    assert not Attachment.objects.exists()
    assert not AttachmentBytes.objects.exists()


def test_a_wrong_file_is_explained(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_attach", args=[vessel.uid])
    file = SimpleUploadedFile("drawing.pdf", b"<script>alert(1)</script>", content_type="application/pdf")
    response = logged_in.post(url, {"file": file, "kind": "drawing"})
    assert response.status_code == 422
    assert "Only PDF files and PNG or JPEG pictures are accepted" in response.content.decode()
    response = logged_in.post(url, {"kind": "drawing"})
    assert response.status_code == 422
    large = SimpleUploadedFile("large.pdf", b"%PDF-" + b"x" * LARGEST_BYTES, content_type="application/pdf")
    response = logged_in.post(url, {"file": large, "kind": "drawing"})
    assert response.status_code == 422
    assert "larger than 10 MB" in response.content.decode()
    assert not Attachment.objects.exists()


def test_an_attachment_of_another_plant_is_not_served(client: Client, plant: Plant) -> None:
    attachment = attach(actor_of(), make_vessel(plant), PDF, "a.pdf", kind="drawing")
    stranger = make_user()
    make_plant("FAR", members={stranger: tuple(Role)})
    client.force_login(stranger)
    assert client.get(reverse("attachment_download", args=[attachment.uid])).status_code == 404
