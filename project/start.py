"""What `make run` does once all is installed: secret key, database, static files, demo plant, server."""

import argparse
import hashlib
import os
import secrets
import sys
from pathlib import Path

import django
from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import CommandError, call_command

from project.supervisor import CannotServe, check_port, only_one, parse_port
from project.var_folder import var_folder


def ensure_secret_key(folder: Path) -> None:
    """Makes the file with this installation's secret key, readable by its owner alone, if there is none."""
    if os.environ.get("LEVELWRIGHT_SECRET_KEY"):
        return
    try:
        descriptor = os.open(folder / "secret_key", os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return
    with os.fdopen(descriptor, "w") as file:
        file.write(secrets.token_urlsafe(50) + "\n")


def collect_static(folder: Path) -> None:
    """Runs collectstatic when a static file was added, removed or changed since the last time."""
    stamp = folder / "static.stamp"
    now = static_fingerprint()
    if stamp.exists() and stamp.read_text() == now and Path(str(settings.STATIC_ROOT)).is_dir():
        return
    call_command("collectstatic", interactive=False, clear=True, verbosity=0)
    stamp.write_text(now)


def static_fingerprint() -> str:
    """A digest of the name, size and time of change of every static file of the project and its libraries."""
    lines = [str(settings.STATIC_ROOT), str(settings.STORAGES["staticfiles"]["BACKEND"])]
    for finder in get_finders():
        for path, storage in finder.list(ignore_patterns=[]):
            state = Path(storage.path(path)).stat()
            lines.append(f"{path} {state.st_size} {state.st_mtime_ns}")
    return hashlib.sha256("\n".join(sorted(lines)).encode()).hexdigest()


def prepare_data(folder: Path) -> None:
    """Brings database and static files up to date; loads the demo plant where that is wanted."""
    call_command("migrate", interactive=False, verbosity=0)
    collect_static(folder)
    if settings.DEMO:
        call_command("load_demo")


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m project.start")
    parser.add_argument("--host", default="127.0.0.1")
    parser.add_argument("--port", default="8000")
    options = parser.parse_args()
    folder = var_folder()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "project.settings")
    try:
        check_port(options.host, parse_port(options.port))  # before anything is touched
        with only_one(folder):
            ensure_secret_key(folder)
            django.setup()
            prepare_data(folder)
        call_command("serve", "--host", options.host, "--port", options.port)
    except (CannotServe, CommandError) as problem:
        print(problem, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 130
    return 0


if __name__ == "__main__":
    sys.exit(main())
