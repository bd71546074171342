"""The form of an attachment."""

from django import forms
from django.utils.translation import gettext_lazy as _

from vessels.field_defs import ATTACHMENT_KINDS


class AttachmentForm(forms.Form):
    file = forms.FileField(
        label=_("File"), max_length=200, help_text=_("PDF, PNG or JPEG, at most 10 MB."), widget=forms.FileInput
    )
    kind = forms.ChoiceField(label=_("Kind"), choices=ATTACHMENT_KINDS)
    title = forms.CharField(label=_("Title"), max_length=120, required=False)
