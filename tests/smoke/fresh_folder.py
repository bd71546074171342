"""A fresh copy of the repository and `make run` in it, as somebody at a terminal would have them."""

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
END_S = 40


class SmokeFailed(Exception):
    """What a person who follows the README would stumble over."""


def clone(folder: Path, working_tree: bool) -> None:
    """Clones what is committed; with `working_tree`, copies every file that git would not ignore instead."""
    if not working_tree:
        subprocess.run(["git", "clone", "--quiet", str(ROOT), str(folder)], check=True)
        return
    command = ["git", "ls-files", "-coz", "--exclude-standard"]
    listed = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout
    for name in listed.split("\0"):
        if name and (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, folder / name)


def fresh_environment() -> dict[str, str]:
    """The environment without what this run, a virtual environment or `make` put there."""
    ours = re.compile(r"LEVELWRIGHT_|DJANGO_|DATABASE_URL|VIRTUAL_ENV|PYTHON|PYTEST_|MAKE|MFLAGS|PORT$")
    kept = {name: value for name, value in os.environ.items() if not ours.match(name)}
    own_bin = str(Path(sys.executable).parent)
    kept["PATH"] = os.pathsep.join(part for part in kept["PATH"].split(os.pathsep) if part != own_bin)
    return kept


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as probe:
        return int(probe.getsockname()[1])


class Server:
    """`make run` in a folder, as from a terminal: in a session of its own."""

    def __init__(self, folder: Path, port: int, log: Path) -> None:
        self.address = f"http://127.0.0.1:{port}"
        self.log = log
        self.started_at = time.monotonic()
        with log.open("w") as file:
            self.make = subprocess.Popen(
                ["make", "run", f"PORT={port}"],
                cwd=folder,
                env=fresh_environment(),
                stdin=subprocess.DEVNULL,
                stdout=file,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )

    def output(self) -> str:
        return self.log.read_text()

    def wait_until_ready(self, timeout_s: float) -> float:
        """Waits until it says that it is ready and answers; gives the seconds that took."""
        while time.monotonic() - self.started_at < timeout_s:
            if self.make.poll() is not None:
                raise SmokeFailed(f"make run ended with status {self.make.returncode}")
            if self.address in self.output() and answers(self.address):
                return time.monotonic() - self.started_at
            time.sleep(0.1)
        raise SmokeFailed(f"make run did not answer within {timeout_s:.0f} s")

    def processes(self) -> list[int]:
        """All that make started and that still runs: make, the server, and everything below it."""
        parents = running_processes()

        def with_descendants(process: int) -> list[int]:
            children = [child for child, parent in parents.items() if parent == process]
            return [process, *(one for child in children for one in with_descendants(child))]

        return with_descendants(self.make.pid) if self.make.pid in parents else []

    def interrupt_as_terminal(self) -> None:
        """Ctrl-C: the terminal sends SIGINT to every process of the foreground group, make among them."""
        os.killpg(self.make.pid, signal.SIGINT)

    def interrupt_server_alone(self) -> None:
        server = [process for process in self.processes() if b"project.start" in command_line(process)]
        os.kill(server[0], signal.SIGINT)

    def wait_until_ended(self) -> int:
        try:
            return self.make.wait(END_S)
        except subprocess.TimeoutExpired:
            raise SmokeFailed(f"make run did not end within {END_S} s") from None

    def kill(self) -> None:
        for process in reversed(self.processes()):
            os.kill(process, signal.SIGKILL)


@contextmanager
def running(folder: Path, port: int, log: Path) -> Iterator[Server]:
    """A server that is gone afterwards, whatever happens."""
    server = Server(folder, port, log)
    try:
        yield server
    finally:
        server.kill()


def running_processes() -> dict[int, int]:
    """Every process of this machine that has not ended, and its parent."""
    parents = {}
    for file in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, parent, *_ = file.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if state != "Z":
            parents[int(file.parent.name)] = int(parent)
    return parents


def command_line(process: int) -> bytes:
    try:
        return Path(f"/proc/{process}/cmdline").read_bytes()
    except OSError:
        return b""


def answers(address: str) -> bool:
    """Whether a web server answers there, with whatever status."""
    try:
        urllib.request.urlopen(address, timeout=5).close()
    except urllib.error.HTTPError:
        return True
    except OSError:
        return False
    return True
