"""Prepares a fresh folder for `make run` and `make test`: virtual environment, PDF engine, browser.

Standard library only, because it runs before anything is installed:

    python3 -m project.prepare [--test] [--browser] [--no-apt] [--no-engine]

The environment is built aside as .venv.new and renamed when it is whole. .venv/prepared.json remembers what
it was made from and what was proved to work in it, so that a second run has nothing to do.
"""

from __future__ import annotations

import argparse
import fcntl
import hashlib
import importlib.util
import json
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)
VENV_PACKAGES = ["git", "make", "python3-venv"]

# A part is proved in a process of its own: a missing native library shows at import, a broken one may crash.
# Without the subset library the engine works, but slower and with other bytes: that does not count as proved.
ENGINE_PROOF = """
import sys, warnings
sys.stdout = None  # the engine prints advice there; the last line of the error is enough
warnings.simplefilter("ignore")
from weasyprint import HTML
from weasyprint.text.ffi import harfbuzz_subset
page = HTML(string="<p>12.5 m, &Omega;, &#1046;</p>").write_pdf()
if not page.startswith(b"%PDF"):
    raise SystemExit("the engine wrote no PDF")
if harfbuzz_subset is None:
    raise SystemExit("the library harfbuzz-subset is missing")
"""
BROWSER_PROOF = """
import os
from playwright.sync_api import sync_playwright
from tests.chromium import CHROMIUM, launch_options
if not os.access(CHROMIUM, os.X_OK):
    raise SystemExit(f"{CHROMIUM} is missing")
with sync_playwright() as playwright:
    playwright.chromium.launch(**launch_options()).close()
"""
# part: how it is proved, the Debian packages that it needs, what to say when it does not work
PARTS = {
    "engine": (
        ENGINE_PROOF,
        ["libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0"],
        "The PDF engine does not work here yet",
    ),
    "browser": (
        BROWSER_PROOF,
        ["chromium", "libatomic1"],  # the second for the program that drives the first
        "The browser that the tests drive does not work here yet",
    ),
}


class CannotPrepare(Exception):
    """A sentence for the person at the keyboard; the program ends with status 1."""


def say(text: str) -> None:
    print(text, flush=True)


# --- what is wanted, what is there ----------------------------------------------------------------


def python_complaint(version: Sequence[int]) -> str | None:
    """What to say when this Python is too old, or None."""
    if tuple(version[:2]) >= OLDEST_PYTHON:
        return None
    found = ".".join(str(part) for part in version[:3])
    oldest = ".".join(str(part) for part in OLDEST_PYTHON)
    return (
        f"Levelwright needs Python {oldest} or later; python3 here is {found}. "
        f"Name a newer one: make run PYTHON=python{oldest}"
    )


def digest(paths: Sequence[Path], python: str) -> str:
    """A fingerprint of requirement files and the Python that they are installed for."""
    total = hashlib.sha256(python.encode())
    for path in paths:
        total.update(b"\0" + path.read_bytes())
    return total.hexdigest()


def wanted_stamp(root: Path, python: str) -> dict[str, str]:
    """The fingerprints that a current environment carries."""
    runtime, test = root / "requirements.txt", root / "requirements-test.txt"
    return {"runtime": digest([runtime], python), "test": digest([runtime, test], python)}


def read_stamp(venv: Path) -> dict[str, str]:
    """What .venv was made from; empty when there is none or it is unreadable."""
    if not (venv / "bin" / "python").exists():
        return {}
    try:
        stamp = json.loads((venv / "prepared.json").read_text())
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def write_stamp(venv: Path, stamp: dict[str, str]) -> None:
    """Writes the stamp in one step, so that a run that is cut short leaves the old one."""
    aside = venv / "prepared.json.new"
    aside.write_text(json.dumps(stamp, indent=1, sort_keys=True) + "\n")
    aside.replace(venv / "prepared.json")


def next_step(stamp: dict[str, str], wanted: dict[str, str], with_tests: bool) -> str:
    """Whether to "build" a new environment, to "add tests" to the present one, or to do "nothing".

    Test packages are only ever added to an environment that has none: a change of either list means a new
    environment, so that no package stays behind that the lists no longer name.
    """
    if stamp.get("runtime") != wanted["runtime"]:
        return "build"
    if not with_tests or stamp.get("test") == wanted["test"]:
        return "nothing"
    return "build" if "test" in stamp else "add tests"


# --- Debian packages ------------------------------------------------------------------------------


def root_prefix() -> list[str] | None:
    """How to run a command as root without being asked for a password, or None."""
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo") and succeeds(["sudo", "-n", "true"]):
        return ["sudo", "-n"]
    return None


def line_to_type(packages: Sequence[str], as_root: bool) -> str:
    """The one line that installs Debian packages."""
    sudo = "" if as_root else "sudo "
    return f"{sudo}apt-get update && {sudo}apt-get install -y {' '.join(packages)}"


def apt_install(packages: Sequence[str]) -> bool:
    """Installs Debian packages where that needs no password; says whether it went well."""
    prefix = root_prefix()
    if prefix is None or not shutil.which("apt-get"):
        return False
    say(f"Installing {', '.join(packages)} with apt-get ...")
    apt_get = [*prefix, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-o", "DPkg::Lock::Timeout=120"]
    succeeds([*apt_get, "update"])  # a source that does not answer is no reason not to try
    status, output = run_quietly([*apt_get, "install", "-y", "--no-install-recommends", *packages])
    if status != 0:
        say("\n".join(output.splitlines()[-15:]))
    return status == 0


def run_quietly(command: Sequence[str]) -> tuple[int, str]:
    """The status and all output of a command that gets no input."""
    done = subprocess.run(
        command,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    return done.returncode, done.stdout


def succeeds(command: Sequence[str]) -> bool:
    return run_quietly(command)[0] == 0


# --- the virtual environment ----------------------------------------------------------------------


@contextmanager
def one_at_a_time() -> Iterator[None]:
    """Lets a second preparation of the same folder wait for the first."""
    with (ROOT / "requirements.txt").open() as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another preparation of this folder is under way; waiting for it ...")
            fcntl.flock(held, fcntl.LOCK_EX)
        yield


def prepare_venv(venv: Path, with_tests: bool) -> None:
    """Makes .venv current."""
    wanted = wanted_stamp(ROOT, platform.python_version())
    step = next_step(read_stamp(venv), wanted, with_tests)
    lists = ["requirements.txt", *(["requirements-test.txt"] if with_tests else [])]
    if step == "build":
        say("Building .venv with the packages of " + " and ".join(lists) + " (about a minute) ...")
        build_venv(venv, lists, {name: wanted[name] for name in ["runtime", *(["test"] if with_tests else [])]})
    elif step == "add tests":
        say("Adding the packages of requirements-test.txt to .venv ...")
        install_packages(venv, ["requirements-test.txt"])
        write_stamp(venv, {**read_stamp(venv), "test": wanted["test"]})


def build_venv(venv: Path, lists: Sequence[str], stamp: dict[str, str]) -> None:
    """Builds a whole environment aside and puts it in the place of the old one."""
    new, old = venv.with_name(".venv.new"), venv.with_name(".venv.old")
    for left_behind in (new, old):
        shutil.rmtree(left_behind, ignore_errors=True)
    try:
        create_venv(new)
        install_packages(new, lists)
        point_scripts_at(new, venv)
        write_stamp(new, stamp)
        if venv.exists():
            venv.rename(old)
        new.rename(venv)
    finally:
        for left_behind in (new, old):
            shutil.rmtree(left_behind, ignore_errors=True)


def create_venv(folder: Path) -> None:
    status, output = run_quietly([sys.executable, "-m", "venv", "--prompt", "levelwright", str(folder)])
    if status == 0:
        return
    if importlib.util.find_spec("ensurepip") is None or "ensurepip" in output:
        sudo = "" if os.geteuid() == 0 else "sudo "
        line = f"{sudo}apt-get install -y {' '.join(VENV_PACKAGES)}"
        raise CannotPrepare(f"Python cannot make virtual environments here yet. Type:\n    {line}")
    raise CannotPrepare(f"{sys.executable} -m venv failed:\n{output}")


def install_packages(venv: Path, lists: Sequence[str]) -> None:
    """Installs what the lists name, each file checked against its hash."""
    pip = [str(venv / "bin" / "python"), "-m", "pip", "--disable-pip-version-check", "--no-input"]
    named = [part for name in lists for part in ("-r", name)]
    if subprocess.run([*pip, "install", "-qq", "--require-hashes", *named], cwd=ROOT).returncode != 0:
        raise CannotPrepare("The packages could not be installed; pip says why above. Then type the same again.")
    status, output = run_quietly([*pip, "check"])
    if status != 0:
        raise CannotPrepare(f"The installed packages do not fit together:\n{output}")


def point_scripts_at(built: Path, final: Path) -> None:
    """Makes the scripts in bin/ name the folder that they end up in, not the one that they were made in."""
    for script in (built / "bin").iterdir():
        if script.is_symlink() or not script.is_file():
            continue
        content = script.read_bytes()
        if b"\0" not in content and os.fsencode(built) in content:
            script.write_bytes(content.replace(os.fsencode(built), os.fsencode(final)))


# --- the PDF engine and the browser ----------------------------------------------------------------


def prove(venv: Path, part: str, may_install: bool) -> None:
    """Proves once that a part works here, installing the Debian packages that it needs where it does not."""
    stamp = read_stamp(venv)
    if stamp.get(part) == "proved":
        return
    code, packages, complaint = PARTS[part]
    proof = [str(venv / "bin" / "python"), "-c", code]
    status, output = run_quietly(proof)
    if status != 0 and may_install and apt_install(packages):
        status, output = run_quietly(proof)
    if status != 0:
        reason = output.strip().splitlines()[-1] if output.strip() else f"it ended with status {status}"
        line = line_to_type(packages, os.geteuid() == 0)
        raise CannotPrepare(f"{complaint}: {reason}\nType:\n    {line}")
    write_stamp(venv, {**stamp, part: "proved"})


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m project.prepare", description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--test", action="store_true", help="the packages that tests, types and lint need, too")
    parser.add_argument("--browser", action="store_true", help="--test and the browser that tests drive, too")
    parser.add_argument("--no-apt", action="store_true", help="never install Debian packages, say what is missing")
    parser.add_argument("--no-engine", action="store_true", help="do without the PDF engine: lint and types")
    options = parser.parse_args(arguments)
    venv = ROOT / ".venv"
    try:
        complaint = python_complaint(sys.version_info[:3])
        if complaint:
            raise CannotPrepare(complaint)
        with one_at_a_time():
            prepare_venv(venv, options.test or options.browser)
            if not options.no_engine:
                prove(venv, "engine", may_install=not options.no_apt)
            if options.browser:
                prove(venv, "browser", may_install=not options.no_apt)
    except CannotPrepare as problem:
        print(problem, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("Stopped; nothing was left half done.", file=sys.stderr)
        return 130
    return 0


if __name__ == "__main__":
    sys.exit(main())
