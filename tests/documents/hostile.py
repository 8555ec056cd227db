"""Twenty-six ways in which a page can ask for a file, an address or a font of the machine."""

import sys
from base64 import b64encode
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

FILE = "file:///etc/hostname"
NEAR = "http://127.0.0.1:9/x"


def _drawing(inside: str, before: str = "", root: str = "") -> str:
    """A picture inside the page that asks for something outside it."""
    svg = (
        f'{before}<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"'
        f' xmlns:xlink="http://www.w3.org/1999/xlink"{root}>{inside}</svg>'
    )
    return f'<img alt="x" src="data:image/svg+xml;base64,{b64encode(svg.encode()).decode()}">'


SNIPPETS = {
    "picture from a file": f'<img alt="x" src="{FILE}">',
    "picture from an address": f'<img alt="x" src="{NEAR}">',
    "picture beside the page": '<img alt="x" src="../../etc/hostname">',
    "style sheet from a file": f'<link rel="stylesheet" href="{FILE}">',
    "style sheet from an address": f'<link rel="stylesheet" href="{NEAR}">',
    "attachment of the page": f'<link rel="attachment" href="{FILE}">',
    "attachment of a link": f'<a rel="attachment" href="{FILE}">x</a>',
    "import by url": f'<style>@import url("{FILE}");</style>',
    "import by word": f'<style>@import "{NEAR}";</style>',
    "font from a file": (
        f'<style>@font-face{{font-family:x;src:url("{FILE}")}}b{{font-family:x}}</style><b>x</b>'
    ),
    "font of the machine": (
        "<style>@font-face{font-family:x;src:local('DejaVu Sans')}b{font-family:x}</style><b>x</b>"
    ),
    "colour profile": f'<style>@color-profile --x {{src:url("{FILE}")}}</style>',
    "background": f'<p style="background:url({FILE})">x</p>',
    "border picture": f'<p style="border:9px solid;border-image-source:url({FILE})">x</p>',
    "list mark": f'<p style="display:list-item;list-style-image:url({FILE})">x</p>',
    "words before": f'<style>b::before{{content:url("{FILE}")}}</style><b>x</b>',
    "head of the page": f'<style>@page{{@top-left{{content:url("{NEAR}")}}}}</style>',
    "object": f'<object data="{FILE}"></object>',
    "embedded": f'<embed src="{NEAR}">',
    "frame": f'<iframe src="{FILE}"></iframe>',
    "base": f'<base href="{FILE}"><img alt="x" src="x">',
    "picture in a drawing": f'<svg width="9" height="9"><image href="{FILE}" width="9"/></svg>',
    "part of another drawing": f'<svg width="9" height="9"><use href="{FILE}#x"/></svg>',
    "picture in a drawing in a picture": _drawing(f'<image xlink:href="{FILE}" width="9"/>'),
    "entity of a drawing": _drawing(
        "<text>&x;</text>", before=f'<!DOCTYPE svg [<!ENTITY x SYSTEM "{FILE}">]>'
    ),
    "style of a drawing": _drawing(f'<style>@import url("{FILE}");</style>'),
}


def watched() -> list[str]:
    """Watch this process from now on: the list grows with every file, line or program it opens.

    Left out are the files of Python, of its packages and of the project. An audit hook cannot be
    taken away again, so this is called in a process of its own.
    """
    own = tuple({sys.prefix, sys.base_prefix, str(ROOT / "relations"), str(ROOT / "templates")})
    touched: list[str] = []

    def hook(event: str, arguments: tuple[object, ...]) -> None:
        if event.startswith(("socket.", "subprocess.", "os.system", "os.exec", "os.posix_spawn")):
            touched.append(f"{event} {arguments[:2]}")
        elif event == "open" and not str(arguments[0]).startswith(own):
            touched.append(f"{event} {arguments[0]}")

    sys.addaudithook(hook)
    return touched
