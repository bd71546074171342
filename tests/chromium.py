"""The browser that tests drive: Debian's Chromium."""

import os
from typing import Any

CHROMIUM = "/usr/bin/chromium"


def launch_options() -> dict[str, Any]:
    """Arguments for Playwright's `chromium.launch`."""
    arguments = [
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
    ]
    if os.geteuid() == 0:  # Chromium's sandbox refuses to run as root, and only then it is left off
        arguments.append("--no-sandbox")
    return {"executable_path": CHROMIUM, "headless": True, "args": arguments}
