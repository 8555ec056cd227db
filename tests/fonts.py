"""Fonts for the browser of the tests: the machine's own, and ours for the letters it lacks.

Without Arabic and Devanagari on the machine a page of these languages would be a row of boxes,
and whatever is measured on it would be about boxes.
"""

import atexit
import os
import shutil
import tempfile
from functools import cache
from pathlib import Path
from xml.sax.saxutils import escape

from relations.documents.fonts import VARIABLE, font_folders

SYSTEM = "/etc/fonts/fonts.conf"
_CONFIGURATION = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <include ignore_missing="yes">{system}</include>
{folders}
  <cachedir>{cache}</cachedir>
</fontconfig>
"""


def configuration(folder: Path, system: str = SYSTEM) -> Path:
    """Write a fontconfig file into `folder` that knows the machine's fonts and those of papers."""
    folders = "\n".join(f"  <dir>{escape(str(path))}</dir>" for path in font_folders())
    path = folder / "fonts.conf"
    path.write_text(
        _CONFIGURATION.format(system=escape(system), folders=folders, cache=folder / "cache"),
        encoding="utf-8",
    )
    return path


@cache
def environment() -> dict[str, str]:
    """This process's environment, as a browser is to be started in it."""
    folder = Path(tempfile.mkdtemp(prefix="relations-fonts-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return {**os.environ, VARIABLE: str(configuration(folder))}
