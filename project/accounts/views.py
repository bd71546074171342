"""Logging in and out."""

from django.conf import settings
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView, LogoutView
from django.utils.translation import gettext_lazy as _

from project.accounts.demo import DEMO_LOGINS


class LogInForm(AuthenticationForm):
    error_messages = {
        "invalid_login": _("User name and password do not belong together. Capital letters count in both."),
        "inactive": _("This account is switched off; an administrator can switch it on."),
    }


log_in = LoginView.as_view(
    template_name="accounts/log_in.html",
    authentication_form=LogInForm,
    redirect_authenticated_user=True,
    extra_context={"demo_logins": DEMO_LOGINS if settings.DEMO else ()},
)
log_out = LogoutView.as_view()
