"""The folder for everything that a run writes: database, secret key, collected static files, lock."""

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def var_folder() -> Path:
    """LEVELWRIGHT_VAR, or var/ beside manage.py; made when it is not there."""
    folder = Path(os.environ.get("LEVELWRIGHT_VAR") or ROOT / "var").resolve()
    folder.mkdir(parents=True, exist_ok=True)
    return folder
