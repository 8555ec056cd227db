"""Set a fresh machine up: environment, packages, system libraries, translations; then step inside.

Standard library only, and nothing slow is imported once all is there: every command passes here.
"""

import contextlib
import hashlib
import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
STAMP = VENV / "requirements.stamp"  # what was installed: one line a file, name and digest
PROVING = {"test", "bench"}  # the commands that need what tests are made with

# What to look for, and the Debian package that brings it.
LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
TOOLS = {
    "chromium": "chromium",
    "postgres": "postgresql",
    "pdftotext": "poppler-utils",
    "qpdf": "qpdf",
    "exiftool": "libimage-exiftool-perl",
    "exiv2": "exiv2",
}


def make_ready(command: list[str]) -> None:
    """Bring what this command lacks, saying each step first; stop where only root can go on."""
    wanted = _wanted(command)
    there = set(STAMP.read_text().splitlines()) if PYTHON.exists() and STAMP.exists() else set()
    if not there.issuperset(wanted):
        _install_debian(missing_packages(proving=bool(PROVING.intersection(command))))
        if not PYTHON.exists():
            _run("Making .venv", [sys.executable, "-m", "venv", str(VENV)])
        pip = [str(PYTHON), "-m", "pip", "install", "-qq", "--disable-pip-version-check"]
        for name in wanted.values():
            _run(f"Installing {name}", [*pip, "-r", str(ROOT / name)])
        STAMP.write_text("\n".join(sorted(wanted)) + "\n")
    if stale_translations():
        # Not by manage.py, which would come here again and find them just as stale.
        django = [str(PYTHON), "-m", "django", "build_translations", "--verbosity=0"]
        where = [f"--pythonpath={ROOT}", "--settings=relations.settings"]
        _run("Building the translations", [*django, *where])


def step_inside(argv: list[str]) -> None:
    """Start the same command again with the environment's Python, unless it runs there already."""
    if not os.path.samefile(sys.prefix, VENV):
        os.execv(PYTHON, [str(PYTHON), *argv])  # noqa: S606 - a fixed program, no shell wanted


def missing_packages(*, proving: bool) -> list[str]:
    """The Debian packages that are not there: for the site, and for its tests when `proving`."""
    import importlib.util

    missing = [] if importlib.util.find_spec("ensurepip") else ["python3-venv"]
    missing += [package for library, package in LIBRARIES.items() if not _loads(library)]
    return missing + [package for tool, package in TOOLS.items() if proving and not find(tool)]


def find(tool: str) -> str | None:
    """Where a program lies; Debian keeps PostgreSQL's server apart from other programs."""
    import shutil

    servers = sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    return shutil.which(tool) or shutil.which(tool, path=os.pathsep.join(map(str, servers)))


def stale_translations() -> list[Path]:
    """The catalogues whose built file is absent or older than the words it is built from."""
    return [
        words
        for words in sorted(ROOT.glob("locale/*/LC_MESSAGES/django.po"))
        if not (built := words.with_suffix(".mo")).exists()
        or built.stat().st_mtime < words.stat().st_mtime
    ]


def _wanted(command: list[str]) -> dict[str, str]:
    """For each requirement file this command needs: the line of the stamp, and the file's name."""
    names = ["requirements.txt", "tests/requirements.txt"]
    digests = {name: hashlib.sha256((ROOT / name).read_bytes()).hexdigest() for name in names}
    proving = PROVING.intersection(command)
    return {f"{name} {digests[name]}": name for name in names if proving or name == names[0]}


def _install_debian(packages: list[str]) -> None:
    install = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    if packages and os.geteuid() != 0:
        line = f"sudo apt-get update && sudo {' '.join(install)}"
        sys.exit(f"Something is missing. Type this line, then try again:\n{line}")
    if packages:
        _run("Reading the list of Debian packages", ["apt-get", "update", "-qq"])
        _run(f"Installing {', '.join(packages)}", [*install, "-qq"])


def _run(step: str, command: list[str]) -> None:
    import subprocess

    print(f"{step} …", file=sys.stderr, flush=True)  # noqa: T201 - said before it is done
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    done = subprocess.run(command, env=environment, stdin=subprocess.DEVNULL, check=False)
    if done.returncode:
        sys.exit(f"{step} did not work; the lines above say why.")


def _loads(library: str) -> bool:
    import ctypes

    with contextlib.suppress(OSError):
        return bool(ctypes.CDLL(library))
    return False
