"""Shows that the README is true: clones into an empty folder, runs `make run`, drives it, and ends it.

    python -m tests.smoke.smoke [--working-tree] [--pictures FOLDER]

Without --working-tree it takes what is committed, as somebody who clones would. Pictures and the PDF go to
test-results/smoke/.
"""

import argparse
import os
import shutil
import signal
import sqlite3
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from urllib.parse import urljoin

import pypdfium2
from playwright.sync_api import Page, expect, sync_playwright
from pypdf import PdfReader

from tests.chromium import CHROMIUM, launch_options
from tests.smoke.fresh_folder import ROOT, Server, SmokeFailed, clone, free_port, running, running_processes

RESULTS = ROOT / "test-results" / "smoke"
FIRST_START_S = 600  # packages come over the network
SECOND_START_S = 15
WIDTHS_PX = (1440, 900)
DEMO_PASSWORD = "kestrel-reach-demo"
ROLES = 8
README_PICTURES = ("index-1440", "measurement-1440", "datasheet")


class Checks:
    """Counts what was shown, and says it."""

    def __init__(self) -> None:
        self.passed = 0

    def __call__(self, holds: bool, what: str) -> None:
        if not holds:
            raise SmokeFailed(f"not so: {what}")
        self.passed += 1
        print(f"  ok  {what}", flush=True)


def run(check: Checks, scratch: Path, working_tree: bool) -> None:
    """The whole story: first start, work, Ctrl-C, second start, end."""
    folder, log = scratch / "levelwright", scratch / "log"
    clone(folder, working_tree)
    check(not (folder / ".venv").exists() and not (folder / "var").exists(), "the folder is fresh")

    with running(folder, free_port(), log) as server:
        seconds = server.wait_until_ready(FIRST_START_S)
        check(True, f"make run answers in a fresh folder ({seconds:.0f} s)")
        check(server.output().count(DEMO_PASSWORD) >= ROLES, "it prints a demo log-in for each role")
        with browser_page() as page:
            drive(check, page, server.address)
        processes = server.processes()
        server.interrupt_as_terminal()
        status = server.wait_until_ended()
        # Ctrl-C reaches make too, which may then report the signal instead of the program's status.
        check(status in (0, -signal.SIGINT), f"Ctrl-C ends make run (status {status})")
        check_end(check, server, processes)

    database = folder / "var" / "levelwright.sqlite3"
    before = content(database)
    with running(folder, free_port(), log) as server:
        seconds = server.wait_until_ready(SECOND_START_S)
        check(True, f"a second make run answers within seconds ({seconds:.1f} s)")
        check(content(database) == before, "it leaves the data untouched")
        processes = server.processes()
        server.interrupt_server_alone()
        check(server.wait_until_ended() == 0, "an interrupt of the server alone ends make run with status 0")
        check_end(check, server, processes)


def check_end(check: Checks, server: Server, before: list[int]) -> None:
    left = set(before) & running_processes().keys()
    check(not left, f"no process of {len(before)} is left")
    check("Levelwright has stopped." in server.output(), "it says that it has stopped")
    check("Traceback" not in server.output(), "nothing that it printed is a traceback")


def content(database: Path) -> list[str]:
    """Every row of the database, as SQL."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
        return list(connection.iterdump())


@contextmanager
def browser_page() -> Iterator[Page]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(**launch_options())
        context = browser.new_context(viewport={"width": WIDTHS_PX[0], "height": 1000})
        context.set_default_timeout(15_000)
        page = context.new_page()
        try:
            yield page
        except Exception:
            page.screenshot(path=RESULTS / "failed.png", full_page=True)
            raise
        finally:
            browser.close()


def picture(page: Page, name: str) -> None:
    """The whole page at each width, in a window as tall as it is, so that what sticks to the edge stays there."""
    for width in reversed(WIDTHS_PX):
        page.set_viewport_size({"width": width, "height": 1000})
        box = page.locator("html").bounding_box()
        page.set_viewport_size({"width": width, "height": max(1000, int(box["height"]) + 1 if box else 0)})
        page.screenshot(path=RESULTS / f"{name}-{width}.png")
    page.set_viewport_size({"width": WIDTHS_PX[0], "height": 1000})


def wait_for_change(page: Page, selector: str, before: str) -> None:
    """Waits until an element's content differs: by locator, as the page's security policy forbids eval."""
    deadline = time.monotonic() + 10
    while page.locator(selector).inner_html() == before:
        if time.monotonic() > deadline:
            raise SmokeFailed(f"{selector} did not change within 10 s")
        page.wait_for_timeout(50)


def check_pdf(check: Checks, path: Path, tag: str) -> None:
    """The datasheet is a PDF with real text; its first page is drawn beside it as a picture."""
    check(path.read_bytes().startswith(b"%PDF"), "the datasheet is a PDF")
    text = "\n".join(page.extract_text() for page in PdfReader(path).pages)
    check(tag in text, f"the datasheet names the tag {tag} in real text")
    with closing(pypdfium2.PdfDocument(path)) as sheet:
        sheet[0].render(scale=2).to_pil().save(RESULTS / "datasheet.png")


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.smoke.smoke")
    parser.add_argument("--working-tree", action="store_true", help="this folder as it stands, not the commit")
    parser.add_argument("--pictures", type=Path, help="folder that gets the README's pictures")
    options = parser.parse_args()
    if not os.access(CHROMIUM, os.X_OK):
        print(f"{CHROMIUM} is missing. Type:\n    apt-get install -y chromium", file=sys.stderr)
        return 1
    shutil.rmtree(RESULTS, ignore_errors=True)
    RESULTS.mkdir(parents=True)
    check = Checks()
    with tempfile.TemporaryDirectory(prefix="levelwright-smoke-") as scratch:
        try:
            run(check, Path(scratch), options.working_tree)
        except Exception as problem:
            log = Path(scratch) / "log"
            print(f"FAILED: {problem}")
            print(f"--- what make run printed:\n{log.read_text() if log.exists() else 'nothing'}")
            print(f"smoke: {check.passed} passed, 1 failed", flush=True)
            return 1
    if options.pictures:
        options.pictures.mkdir(parents=True, exist_ok=True)
        for name in README_PICTURES:
            shutil.copy2(RESULTS / f"{name}.png", options.pictures / f"{name}.png")
    print(f"Pictures and the datasheet: {RESULTS}")
    print(f"smoke: {check.passed} passed, 0 failed", flush=True)
    return 0


# --- the pages: all that this script knows of them stands below -----------------------------------

# A tag of the demo without a stop, and a lower height of its nozzle that gives one.
TAG, NEW_HEIGHT = "LZT-4002", "10.02"
USERNAME, PASSWORD = "input[name=username]", "input[name=password]"
LOG_IN_BUTTON = f"form:has({PASSWORD}) :is(button:not([type=button]), input[type=submit])"
INDEX_LINK, PDF_LINK = "Index", "Datasheet (PDF)"
INDEX_ROWS, SEARCH_BOX = "table tbody tr", "#search-box"
FORM = "form#measurement-form"
NOZZLE_HEIGHT = f"{FORM} input[name=nozzle-face_elevation]"
SKETCH, FINDINGS = "#live-results #sketch svg", "#live-results #findings"
SAVE_BUTTON = "button[name=save]"


def drive(check: Checks, page: Page, address: str) -> None:
    """What the first visitor does: log in, find a tag, lower its nozzle, save, take the datasheet."""
    errors: list[str] = []
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))

    page.goto(f"{address}/log-in/")
    picture(page, "log-in")
    page.locator(USERNAME).fill("originator")
    page.locator(PASSWORD).fill(DEMO_PASSWORD)
    page.locator(LOG_IN_BUTTON).click()
    page.wait_for_url(lambda url: "/log-in/" not in url)
    check(True, "the originator of the demo logs in")

    page.get_by_role("link", name=INDEX_LINK).first.click()
    expect(page.locator(INDEX_ROWS).first).to_be_visible()
    picture(page, "index")
    page.locator(SEARCH_BOX).fill(TAG)
    page.locator(SEARCH_BOX).press("Enter")
    page.locator(INDEX_ROWS).get_by_role("link", name=TAG, exact=True).click()
    expect(page.locator(FORM)).to_be_visible()
    check(True, f"the index opens the tag {TAG}")
    picture(page, "measurement")

    height = page.locator(NOZZLE_HEIGHT)
    before = height.input_value()
    check(before not in ("", NEW_HEIGHT), f"its nozzle has a height, {before}")
    sketch, findings = page.locator(SKETCH).inner_html(), page.locator(FINDINGS).inner_html()
    height.press("ControlOrMeta+a")
    height.press_sequentially(NEW_HEIGHT, delay=30)
    wait_for_change(page, SKETCH, sketch)
    check(True, f"the sketch follows the nozzle to {NEW_HEIGHT} before anything is saved")
    wait_for_change(page, FINDINGS, findings)
    check(True, "the findings follow too")
    picture(page, "measurement-changed")

    page.locator(SAVE_BUTTON).first.click()
    page.wait_for_load_state()
    page.reload()
    expect(page.locator(NOZZLE_HEIGHT)).to_have_value(NEW_HEIGHT)
    check(True, "the new height is saved as it was typed")

    href = page.get_by_role("link", name=PDF_LINK).first.get_attribute("href") or ""
    answer = page.context.request.get(urljoin(page.url, href))
    check(answer.headers.get("content-type") == "application/pdf", "the datasheet is served as a PDF")
    (RESULTS / "datasheet.pdf").write_bytes(answer.body())
    check_pdf(check, RESULTS / "datasheet.pdf", TAG)
    check(not errors, f"the browser reports no error {errors or ''}".rstrip())


if __name__ == "__main__":
    sys.exit(main())
