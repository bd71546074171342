"""The nozzle's form."""

from typing import Any

from django.utils.translation import gettext as _

from project.forms import RegistryForm


class NozzleForm(RegistryForm):
    """Face elevation or projection: one is entered, the other follows."""

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        face, projection = cleaned.get("face_elevation"), cleaned.get("projection")
        if face and projection and face.si is not None and projection.si is not None:
            self.add_error(
                "projection",
                _("Enter the elevation of the face or the projection, not both: the other one is derived. Clear one."),
            )
        return cleaned
