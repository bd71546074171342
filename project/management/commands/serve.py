"""manage.py serve: the web server and one background worker, until Ctrl-C."""

import ipaddress
import os
import socket
import sys
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connections

from project.accounts.demo import DEMO_LOGINS
from project.supervisor import CannotServe, Child, Supervisor, check_port, only_one, parse_port
from project.task_recovery import recover_tasks, worker_name
from project.var_folder import ROOT, var_folder


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach a server on that host."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def web_command(host: str, port: int, workers: int, threads: int) -> list[str]:
    """The command line of the web server; its workers are replaced now and then, to keep memory flat."""
    address = f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
    options = {
        "--bind": address,
        "--worker-class": "gthread",
        "--workers": str(workers),
        "--threads": str(threads),
        "--max-requests": "2000",
        "--max-requests-jitter": "400",
        "--timeout": "60",
        "--graceful-timeout": "10",
        "--log-level": "warning",
    }
    if Path("/dev/shm").is_dir():  # the workers' heartbeat should not wait for a disk
        options["--worker-tmp-dir"] = "/dev/shm"
    flags = [part for option in options.items() for part in option]
    return [sys.executable, "-m", "gunicorn", "project.wsgi:application", "--no-control-socket", *flags]


def worker_command(name: str) -> list[str]:
    """The command line of the background worker, which retires after 500 tasks to keep memory flat."""
    options = [
        "--worker-id",
        name,
        "--queue-name",
        "*",
        "--max-tasks",
        "500",
        "--no-reload",
        "--no-startup-delay",
    ]
    return [sys.executable, str(ROOT / "manage.py"), "db_worker", *options]


class Command(BaseCommand):
    help = "Serve Levelwright: the web server and one background worker, until Ctrl-C."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="address to listen on (%(default)s)")
        parser.add_argument("--port", default=os.environ.get("PORT") or "8000", help="port (%(default)s)")
        parser.add_argument("--workers", type=int, default=2, help="web processes (%(default)s)")
        parser.add_argument("--threads", type=int, default=4, help="threads of each (%(default)s)")

    def handle(self, *args: Any, **options: Any) -> None:
        host = options["host"]
        if settings.DEMO and not is_loopback(host):
            raise CommandError(
                f"The demo's passwords are public: with LEVELWRIGHT_DEMO=1 only this machine may reach it: "
                f"--host 127.0.0.1, not {host}."
            )
        try:
            port = parse_port(options["port"])
            check_port(host, port)
            with only_one(var_folder()) as lock:
                self._supervise(host, port, options["workers"], options["threads"], lock)
        except CannotServe as problem:
            raise CommandError(str(problem)) from None
        except KeyboardInterrupt:
            pass  # it came before the supervisor listened for it
        self._say("Levelwright has stopped.")

    def _supervise(self, host: str, port: int, workers: int, threads: int, lock: int) -> None:
        web = Child("The web server", web_command(host, port, workers, threads))
        # The worker keeps the lock: while one still finishes a task, nobody puts that task back as lost.
        worker = Child("The background worker", worker_command(worker_name()), self._recover, inherited=[lock])
        self._announced = False
        Supervisor([web, worker], self._say, watch=lambda: self._watch(web, host, port)).run()

    def _recover(self) -> None:
        try:
            recovered = recover_tasks(worker_name())
        finally:
            connections.close_all()
        if recovered.queued:
            self._say(f"Background tasks left unfinished by an earlier worker, queued again: {recovered.queued}.")
        if recovered.failed:
            self._say(f"Background tasks given up after several tries: {recovered.failed}.")

    def _watch(self, web: Child, host: str, port: int) -> None:
        """Says once where Levelwright is to be found; gives up if the web server dies before that."""
        if self._announced:
            return
        if web.quick_deaths:
            raise CannotServe("The web server ended before it answered; it says why above.")
        try:
            socket.create_connection((host, port), timeout=1).close()
        except OSError:
            return
        self._announced = True
        self._say(f"\nLevelwright is ready: http://{'[' + host + ']' if ':' in host else host}:{port}/")
        if settings.DEMO:
            self._say("\nLog-ins of the demo plant, which is invented from end to end:")
            for username, password, role in DEMO_LOGINS:
                self._say(f"  {username:<15} {password:<20} {role}")
        self._say("\nCtrl-C ends it.")

    def _say(self, text: str) -> None:
        self.stdout.write(text)
        self.stdout.flush()
