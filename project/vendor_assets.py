"""Copies the front-end files that Levelwright ships from their npm packages: `make vendor`.

Needs npm and nothing of ours; it is only for whoever moves to a newer version. To move: change the version
here, run it, look at the change, and correct project/static/vendor/README.md.
"""

from __future__ import annotations

import shutil
import subprocess
import tarfile
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FONTS = "project/static/fonts"
SANS = "fonts/complete/woff2/IBMPlexSans"

# package and version -> (file in the package, file or folder here that it is copied to)
ASSETS = {
    "@ibm/plex-sans@1.1.0": [
        (f"{SANS}-Regular.woff2", f"{FONTS}/IBMPlexSans-Regular.woff2"),
        (f"{SANS}-Italic.woff2", f"{FONTS}/IBMPlexSans-Italic.woff2"),
        (f"{SANS}-Medium.woff2", f"{FONTS}/IBMPlexSans-Medium.woff2"),
        (f"{SANS}-SemiBold.woff2", f"{FONTS}/IBMPlexSans-SemiBold.woff2"),
        ("LICENSE.txt", f"{FONTS}/OFL.txt"),
    ],
    "@ibm/plex-sans-condensed@2.0.0": [
        (f"{SANS}Condensed-Regular.woff2", f"{FONTS}/IBMPlexSansCondensed-Regular.woff2"),
        (f"{SANS}Condensed-SemiBold.woff2", f"{FONTS}/IBMPlexSansCondensed-SemiBold.woff2"),
    ],
    "axe-core@4.14.1": [
        ("axe.min.js", "tests/browser/vendor/axe.min.js"),
        ("LICENSE", "tests/browser/vendor/axe-LICENSE"),
        ("LICENSE-3RD-PARTY.txt", "tests/browser/vendor/axe-LICENSE-3RD-PARTY.txt"),
    ],
}


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        for number, (package, files) in enumerate(ASSETS.items()):
            unpacked = Path(folder) / str(number)
            unpack(package, unpacked)
            for source, target in files:
                (ROOT / target).parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(unpacked / "package" / source, ROOT / target)
                print(f"{package}: {target}")


def unpack(package: str, folder: Path) -> None:
    """Fetches a package with npm, running nothing that is in it, and unpacks it into a new folder."""
    folder.mkdir()
    subprocess.run(["npm", "pack", "--silent", package], cwd=folder, check=True, stdout=subprocess.DEVNULL)
    (archive,) = folder.glob("*.tgz")
    with tarfile.open(archive) as content:
        content.extractall(folder, filter="data")


if __name__ == "__main__":
    main()
