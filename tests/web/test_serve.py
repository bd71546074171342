"""What `make run` and `manage.py serve` decide before anything is served; `make smoke` shows the rest."""

import stat

import pytest
from django.core.management import CommandError, call_command

from project import start
from project.management.commands.serve import is_loopback, web_command, worker_command


@pytest.mark.parametrize("host", ["127.0.0.1", "127.3.2.1", "::1", "localhost"])
def test_loopback(host):
    assert is_loopback(host)


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.0.2.1", "example.org", "", "127.0.0.1.example.org"])
def test_not_loopback(host):
    assert not is_loopback(host)


def test_demo_with_its_public_passwords_is_served_to_this_machine_only(settings):
    settings.DEMO = True
    with pytest.raises(CommandError, match="only this machine"):
        call_command("serve", "--host", "0.0.0.0")


@pytest.mark.parametrize("port", ["0", "http", "65536"])
def test_port_that_is_none(port):
    with pytest.raises(CommandError, match="from 1 to 65535"):
        call_command("serve", "--port", port)


def test_address_of_the_web_server():
    assert "127.0.0.1:8000" in web_command("127.0.0.1", 8000, 2, 4)
    assert "[::1]:8000" in web_command("::1", 8000, 2, 4)


def test_background_worker_takes_every_queue_under_its_own_name():
    command = worker_command("serve-1")
    assert command[command.index("--queue-name") + 1] == "*"
    assert command[command.index("--worker-id") + 1] == "serve-1"


def test_secret_key_is_made_once_and_readable_by_its_owner_alone(monkeypatch, tmp_path):
    monkeypatch.delenv("LEVELWRIGHT_SECRET_KEY", raising=False)
    start.ensure_secret_key(tmp_path)
    key = (tmp_path / "secret_key").read_text()
    assert len(key.strip()) >= 50
    assert stat.S_IMODE((tmp_path / "secret_key").stat().st_mode) == 0o600
    start.ensure_secret_key(tmp_path)
    assert (tmp_path / "secret_key").read_text() == key


def test_no_secret_key_is_written_where_the_environment_gives_one(monkeypatch, tmp_path):
    monkeypatch.setenv("LEVELWRIGHT_SECRET_KEY", "given")
    start.ensure_secret_key(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_static_files_are_collected_again_only_when_one_has_changed(settings, monkeypatch, tmp_path):
    source, target = tmp_path / "source", tmp_path / "target"
    source.mkdir()
    (source / "one.css").write_text("a {}")
    settings.STATICFILES_DIRS = [source]
    settings.STATIC_ROOT = target
    calls = []

    def collect(name, **options):
        calls.append(name)
        target.mkdir(exist_ok=True)

    monkeypatch.setattr(start, "call_command", collect)
    start.collect_static(tmp_path)
    start.collect_static(tmp_path)
    assert calls == ["collectstatic"]
    (source / "two.css").write_text("b {}")
    start.collect_static(tmp_path)
    assert calls == ["collectstatic"] * 2
    target.rmdir()
    start.collect_static(tmp_path)
    assert calls == ["collectstatic"] * 3
