"""Attaching files to rows, and serving them as downloads."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from project.accounts.access import allowed
from project.pages import delete_page, form_actor
from project.rows import PlantRow
from vessels.file_kinds import UnacceptableFile
from vessels.forms.attachment import AttachmentForm
from vessels.models import Attachment, Vessel
from vessels.services import attach


def attach_page(request: HttpRequest, owner: PlantRow, back: str) -> HttpResponse:
    """The page that attaches a file to a row."""
    form = AttachmentForm(request.POST, request.FILES) if request.method == "POST" else AttachmentForm()
    if request.method == "POST" and form.is_valid():
        file = form.cleaned_data["file"]
        try:
            attach(
                form_actor(request),
                owner,
                file.read(),
                file.name,
                kind=form.cleaned_data["kind"],
                title=form.cleaned_data["title"],
            )
        except UnacceptableFile as problem:
            form.add_error("file", ValidationError(_(str(problem))))
        else:
            messages.success(request, _("Attached."))
            return redirect(back)
    status = 200 if request.method != "POST" else 422
    return render(request, "vessels/attachment_new.html", {"form": form, "owner": owner, "back": back}, status=status)


@allowed("vessel.change", Vessel)
def vessel_attach(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    return attach_page(request, vessel, reverse("vessel_view", args=[vessel.uid]))


@allowed("attachment.view", Attachment)
def attachment_download(request: HttpRequest, attachment: Attachment) -> HttpResponse:
    """The bytes as a download: never shown inside the site, whatever they hold."""
    content: Any = attachment.content
    response = HttpResponse(bytes(content.data), content_type=attachment.content_type)
    response["Content-Disposition"] = f'attachment; filename="{attachment.safe_name}"'
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response


@allowed("attachment.change", Attachment)
def attachment_delete(request: HttpRequest, attachment: Attachment) -> HttpResponse:
    back = reverse(f"{attachment.owner_entity}_view", args=[attachment.owner_uid])
    return delete_page(request, attachment, {}, back, back)
