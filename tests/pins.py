"""What the package index says of our pins: withdrawn ones, known faults, and later releases.

Run by `.ci/run long`: `python3 -m tests.pins`. The index is the one that pip itself is set to. It
asks of the packages we pin and of no other. A release that its makers withdrew, one that is gone
and one with a known fault fail; a later release is named. Known faults come from pip-audit where
it is installed; an index without advisories is said to have none to tell, never to be clean.
"""

import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
FILES = (ROOT / "requirements.txt", ROOT / "tests" / "requirements.txt")
PIN = re.compile(r"^([A-Za-z0-9._-]+)(?:\[[^\]]*\])?==([^\s#]+)", re.MULTILINE)
YANKED = re.compile(r"yanked version: '?([A-Za-z0-9._-]+)")
# What ran, with its answer; nothing is typed into it.
Run = Callable[..., "subprocess.CompletedProcess[str]"]


@dataclass
class Told:
    """What was found: `faults` fail, `notes` are read."""

    faults: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def plain(name: str) -> str:
    """The name as every index knows it. Source: PEP 503."""
    return re.sub(r"[-_.]+", "-", name).lower()


def pins(text: str) -> dict[str, str]:
    """Name and version of each pin of a requirements file."""
    return {plain(name): version for name, version in PIN.findall(text)}


def run(*command: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", *command], capture_output=True, text=True, check=False, timeout=900
    )


def look(files: tuple[Path, ...] = FILES, run: Run = run) -> Told:
    """Ask of every pin."""
    told, known = Told(), {}
    for path in files:
        known |= pins(path.read_text(encoding="utf-8"))
        told.faults += _withdrawn(path, run)
    told.notes += _later(known, run)
    _advised(files, run, told)
    return told


def _withdrawn(path: Path, run: Run) -> Iterator[str]:
    """Pins that the index no longer gives, or gives with a warning; nothing is installed."""
    plan = ("pip", "install", "--dry-run", "--no-deps", "--ignore-installed", "--report", "-", "-q")
    ran = run(*plan, "-r", str(path))
    if ran.returncode:
        yield f"{path.name}: a pin is not to be had: {ran.stderr.strip().splitlines()[-1]}"
        return
    for one in json.loads(ran.stdout)["install"]:
        if one.get("is_yanked"):
            yield f"{one['metadata']['name']} {one['metadata']['version']} was withdrawn"
    for name in YANKED.findall(ran.stderr):
        yield f"{name} was withdrawn"


def _later(known: dict[str, str], run: Run) -> Iterator[str]:
    """Pins of which there is a later release; a mere correction is said to be one."""
    ran = run("pip", "list", "--outdated", "--format", "json")
    if ran.returncode:
        yield f"later releases are not known: {ran.stderr.strip().splitlines()[-1]}"
        return
    for one in json.loads(ran.stdout):
        here = known.get(plain(one["name"]))
        if here is None:
            continue
        is_correction = one["latest_version"].split(".")[:2] == here.split(".")[:2]
        what = "a correction" if is_correction else "a later release"
        yield f"{one['name']} {here}: {what} is out, {one['latest_version']}"


def _advised(files: tuple[Path, ...], run: Run, told: Told) -> None:
    for path in files:
        ran = run("pip_audit", "-r", str(path), "--no-deps", "--disable-pip", "-f", "json")
        try:
            found: list[dict[str, Any]] = json.loads(ran.stdout)["dependencies"]
        except (ValueError, KeyError):
            told.notes.append(f"{path.name}: known faults were not asked for: no pip-audit here")
            continue
        for one in found:
            for fault in one.get("vulns", ()):
                mended = ", ".join(fault.get("fix_versions", ())) or "no release yet"
                told.faults.append(
                    f"{one['name']} {one['version']}: {fault['id']}, mended: {mended}"
                )
        if silent := [one["name"] for one in found if "skip_reason" in one]:
            told.notes.append(
                f"{path.name}: the index has no advisories on {len(silent)} of {len(found)} pins"
            )


def main() -> int:
    told = look()
    for line in told.notes:
        print(f"note: {line}")
    for line in told.faults:
        print(f"FAULT: {line}")
    return 1 if told.faults else 0


if __name__ == "__main__":
    sys.exit(main())
