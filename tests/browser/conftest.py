"""Chromium against a live server: pages that watch for policy violations, errors and accessibility."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext

from project.accounts.models import User
from tests.chromium import CHROMIUM, launch_options
from tests.factories import PASSWORD

AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text(encoding="utf-8")
WIDTHS = {"desktop": (1440, 1000), "tablet": (900, 1180)}

os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")  # the browser's driver runs an event loop in this thread


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    assert Path(CHROMIUM).exists(), f"{CHROMIUM} is missing. Type: apt-get install -y chromium"
    return launch_options()


class Person:
    """One person's browser: a page, and what went wrong on it."""

    def __init__(self, context: BrowserContext, base: str) -> None:
        self.page = context.new_page()
        self.base = base
        self.problems: list[str] = []
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.problems.append(str(error)))

    def _console(self, message: Any) -> None:
        # Refused saves answer 409 or 422, which Chromium logs as an error of its own; the tests look at those pages.
        if message.type == "error" and "the server responded with a status of 4" not in message.text:
            self.problems.append(message.text)

    def log_in(self, user: User) -> None:
        self.page.goto(f"{self.base}/log-in/")
        self.page.get_by_label("Username").fill(user.username)
        self.page.get_by_label("Password").fill(PASSWORD)
        self.page.get_by_role("main").get_by_role("button", name="Log in").click()
        self.page.wait_for_url(lambda url: "/log-in/" not in url)

    def looks_right(self) -> None:
        """No violation of the content-security policy, no script error, no finding of axe, nothing cut off."""
        self.page.wait_for_load_state("load")
        self.page.wait_for_load_state("networkidle")
        assert self.problems == []
        session = self.page.context.new_cdp_session(self.page)
        # Through the debugger, because the page's own policy rightly refuses injected scripts.
        session.send("Runtime.evaluate", {"expression": AXE})
        answer = session.send(
            "Runtime.evaluate",
            {
                "expression": "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})"
                ".then(r => JSON.stringify(r.violations.map(v => [v.id, v.nodes.map(n => n.html.slice(0, 160))])))",
                "awaitPromise": True,
                "returnByValue": True,
            },
        )
        assert answer["result"].get("value") == "[]", f"{self.page.url}: {answer['result']}"
        wider = session.send(
            "Runtime.evaluate",
            {"expression": "document.documentElement.scrollWidth - window.innerWidth", "returnByValue": True},
        )
        assert wider["result"]["value"] <= 0, f"{self.page.url} scrolls sideways by {wider['result']['value']} px"
        session.detach()


@pytest.fixture
def open_browser(browser: Browser, live_server: Any) -> Iterator[Callable[..., Person]]:
    """Opens browsers of their own, each with its own session."""
    contexts: list[BrowserContext] = []

    def open_one(width: str = "desktop") -> Person:
        width_px, height_px = WIDTHS[width]
        context = browser.new_context(viewport={"width": width_px, "height": height_px})
        context.set_default_timeout(10_000)
        contexts.append(context)
        return Person(context, live_server.url)

    yield open_one
    for context in contexts:
        context.close()
