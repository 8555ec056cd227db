"""The fonts of our papers: static files from packages, and no other font of the machine."""

import atexit
import os
import shutil
import sys
import tempfile
from functools import cache
from importlib import import_module
from pathlib import Path
from xml.sax.saxutils import escape

# Static families only: with variable files bold letters collide (measured with WeasyPrint 70).
PACKAGES = ("fontpkg_mukta", "fontpkg_amiri", "fontpkg_hind_siliguri")
VARIABLE = "FONTCONFIG_FILE"

_CONFIGURATION = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
{folders}
  <cachedir>{cache}</cachedir>
</fontconfig>
"""


class LateFontsError(RuntimeError):
    """The layout engine was loaded before it was told which fonts to use."""


def folder_of(package: str) -> Path:
    """Give the folder that holds the font files of one package."""
    return Path(import_module(package).ROOT) / "files"


def font_folders() -> tuple[Path, ...]:
    """Give the folders that hold our font files, one a package, in the order of `PACKAGES`."""
    return tuple(map(folder_of, PACKAGES))


def write_configuration(folder: Path) -> Path:
    """Write a fontconfig file into `folder` (made if absent) that knows our fonts alone.

    The cache of fontconfig lies beside it, so nothing is written elsewhere on the machine.
    """
    cache_folder = folder / "cache"
    cache_folder.mkdir(parents=True, exist_ok=True)
    folders = "\n".join(f"  <dir>{escape(str(path))}</dir>" for path in font_folders())
    path = folder / "fonts.conf"
    path.write_text(
        _CONFIGURATION.format(folders=folders, cache=escape(str(cache_folder))), encoding="utf-8"
    )
    return path


@cache
def use_own_fonts() -> Path:
    """Point fontconfig at our fonts for the life of this process; give the file written.

    It must happen before the first import of weasyprint, else Pango has already chosen the
    machine's fonts: LateFontsError then. The folder is temporary and holds nothing personal.
    """
    if "weasyprint" in sys.modules:
        raise LateFontsError("weasyprint was imported before its fonts were chosen")
    folder = Path(tempfile.mkdtemp(prefix="relations-fonts-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    path = write_configuration(folder)
    os.environ[VARIABLE] = str(path)
    return path
