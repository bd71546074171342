"""The form that accepts a caution: a reason, and what the person had in sight when giving it."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from instruments.models.acceptance import LONGEST_REASON, SHORTEST_REASON
from instruments.services.acceptances import reason_wanted


class AcceptanceForm(forms.Form):
    """`digest` and `version` say which finding and which acceptance the person saw."""

    reason = forms.CharField(
        label=_("Reason"),
        help_text=_("What you judged, and why it may stay so. It is printed with your name."),
        widget=forms.Textarea(attrs={"rows": 3, "maxlength": LONGEST_REASON, "data-key": "acceptance.reason"}),
    )
    digest = forms.CharField(widget=forms.HiddenInput, max_length=64)
    version = forms.IntegerField(widget=forms.HiddenInput, min_value=0, max_value=2**31 - 1)

    def clean_reason(self) -> str:
        # One line on the sheet, however it was typed.
        reason = " ".join(str(self.cleaned_data["reason"]).split())
        if not SHORTEST_REASON <= len(reason) <= LONGEST_REASON:
            raise forms.ValidationError(reason_wanted(len(reason)))
        return reason

    def add_refusal(self, problem: forms.ValidationError) -> None:
        """Show what the service refused, at the reason where it is about that."""
        errors: Any = getattr(problem, "error_dict", None)
        self.add_error(None, errors if errors else problem)
