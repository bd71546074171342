"""The form of an attachment."""

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext_lazy as _

from vessels.field_defs import ATTACHMENT_KINDS
from vessels.file_kinds import LARGEST_BYTES


class AttachmentForm(forms.Form):
    file = forms.FileField(
        label=_("File"), max_length=200, help_text=_("PDF, PNG or JPEG, at most 10 MB."), widget=forms.FileInput
    )
    kind = forms.ChoiceField(label=_("Kind"), choices=ATTACHMENT_KINDS)
    title = forms.CharField(label=_("Title"), max_length=120, required=False)

    def clean_file(self) -> UploadedFile:
        """Refuse a large file before its bytes are read into memory."""
        file: UploadedFile = self.cleaned_data["file"]
        if (file.size or 0) > LARGEST_BYTES:
            raise ValidationError(_("The file is larger than 10 MB."))
        return file
