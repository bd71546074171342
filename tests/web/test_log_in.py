"""Logging in: refusals in words, lock-out, the policy header, and pages that fail politely."""

from typing import Any

import pytest
from django.conf import settings
from django.core.cache import cache
from django.test import Client
from django.urls import reverse

from tests.factories import PASSWORD, make_user

pytestmark = pytest.mark.django_db


def log_in(client: Client, username: str, password: str) -> Any:
    return client.post(reverse("log_in"), {"username": username, "password": password})


def test_a_wrong_password_is_said_in_words(client: Client) -> None:
    make_user("somebody")
    page = log_in(client, "somebody", "wrong")
    assert page.status_code == 200
    assert "do not belong together" in page.content.decode()


def test_log_in_leads_to_where_one_wanted(client: Client) -> None:
    make_user("somebody")
    wanted = "/plants/new/"
    sent = client.get(wanted)
    page = client.post(sent.headers["Location"], {"username": "somebody", "password": PASSWORD, "next": wanted})
    assert page.headers["Location"] == wanted


def test_log_in_does_not_lead_elsewhere(client: Client) -> None:
    make_user("somebody")
    page = client.post(
        reverse("log_in"), {"username": "somebody", "password": PASSWORD, "next": "https://elsewhere.invalid/"}
    )
    assert page.headers["Location"] == reverse("plant_list")


def test_too_many_failures_lock_the_account_out(client: Client) -> None:
    cache.clear()
    make_user("somebody")
    for _ in range(settings.AXES_FAILURE_LIMIT):
        page = log_in(client, "somebody", "wrong")
    assert page.status_code == 429
    assert "Too many failed log-ins" in page.content.decode()
    assert log_in(client, "somebody", PASSWORD).status_code == 429


def test_the_policy_allows_no_inline_script_and_no_other_host(client: Client) -> None:
    policy = client.get(reverse("log_in")).headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe-inline" not in policy
    assert "unsafe-eval" not in policy
    assert "http" not in policy
    assert "frame-ancestors 'none'" in policy


def test_logging_out_needs_a_post(client: Client) -> None:
    client.force_login(make_user())
    assert client.get(reverse("log_out")).status_code == 405
    assert client.post(reverse("log_out")).status_code == 302
    assert client.get("/").status_code == 302


def test_a_demo_password_is_shown_only_in_demo_mode(client: Client, settings: Any) -> None:
    assert "kestrel-reach-demo" not in client.get(reverse("log_in")).content.decode()


def test_a_failure_on_our_side_is_said_plainly(client: Client, settings: Any) -> None:
    settings.ROOT_URLCONF = "tests.web.open_urls"
    client.raise_request_exception = False
    client.force_login(make_user())
    page = client.get("/failing/")
    assert page.status_code == 500
    assert "Nothing was saved by this step" in page.content.decode()
