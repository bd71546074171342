"""The live preview's round trip through a real server on loopback, against the bare static-free log-in page."""

import http.client
import os
import socket
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path
from urllib.parse import urlencode

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.test import Client
from django.urls import reverse

from instruments.models import Measurement
from project.accounts.models import User
from tests.bench.measure import Result, interleaved_s
from tests.web.pages import form_values

ROOT = Path(__file__).resolve().parents[2]


def _free_port() -> int:
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _wait(port: int) -> None:
    for _ in range(200):
        with closing(socket.socket()) as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.05)
    raise RuntimeError("the server did not start within 10 s")


def _session_of(user: User) -> str:
    store = SessionStore()
    store[SESSION_KEY] = str(user.pk)
    store[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[-1]
    store[HASH_SESSION_KEY] = user.get_session_auth_hash()
    store.create()
    return str(store.session_key)


def results() -> list[Result]:
    user = User.objects.get(username="originator")
    measurement = Measurement.objects.get(tag__text="LT-4001")
    client = Client(headers={"host": "localhost"})
    client.force_login(user)
    values = form_values(client, reverse("measurement_edit", args=[measurement.uid]))
    token = values["csrfmiddlewaretoken"]
    port = _free_port()
    server = subprocess.Popen(
        [sys.executable, "-m", "gunicorn", "project.wsgi", "--bind", f"127.0.0.1:{port}", "--threads", "2",
         "--log-level", "warning"],
        cwd=ROOT, env=os.environ | {"DJANGO_SETTINGS_MODULE": "project.settings_test"},
    )  # fmt: skip
    try:
        _wait(port)
        connection = http.client.HTTPConnection("127.0.0.1", port)
        headers = {
            "Cookie": f"sessionid={_session_of(user)}; csrftoken={token}", "HX-Request": "true",
            "Content-Type": "application/x-www-form-urlencoded", "Host": "localhost",
        }  # fmt: skip
        address = reverse("measurement_preview", args=[measurement.uid])
        count = 0

        def preview() -> None:
            nonlocal count
            count += 1
            body = urlencode(values | {"measurement-urv": f"9.{count % 80 + 10}"})
            connection.request("POST", address, body, headers)
            response = connection.getresponse()
            content = response.read()
            assert response.status == 200, response.status
            assert b"live-results" in content

        def log_in_page() -> None:
            connection.request("GET", reverse("log_in"), headers={"Host": "localhost"})
            assert connection.getresponse().read()

        preview_s, log_in_s = interleaved_s([preview, log_in_page], repeats=60, warm_up=5)
    finally:
        server.terminate()
        server.wait(10)
    return [
        Result("log-in page, round trip", log_in_s),
        Result("live preview, round trip", preview_s, preview_s / log_in_s, "the log-in page", "aim below 60 ms"),
    ]
