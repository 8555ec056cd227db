import os
import subprocess
import sys
from xml.etree import ElementTree

from fontTools.ttLib import TTFont

from relations.documents import fonts


def test_font_folders_hold_static_files_of_the_scripts_we_print():
    letters = set()
    for folder in fonts.font_folders():
        for path in folder.glob("*.ttf"):
            with TTFont(path, lazy=True) as font:
                assert "fvar" not in font, f"{path.name} is variable: its bold letters collide"
                letters |= set(font.getBestCmap())
    assert {ord(letter) for letter in "aéœक्षार्ँابتثپڭ‘’·"} <= letters


def test_configuration_knows_our_folders_and_caches_beside_itself(tmp_path):
    path = fonts.write_configuration(tmp_path / "a & b")
    root = ElementTree.parse(path).getroot()
    assert [node.text for node in root.iter("dir")] == [str(f) for f in fonts.font_folders()]
    assert root.findtext("cachedir") == str(tmp_path / "a & b" / "cache")
    assert (tmp_path / "a & b" / "cache").is_dir()


def run(code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=False
    )


def test_fonts_are_chosen_once_and_gone_when_the_process_ends():
    ran = run(
        "import os\nfrom relations.documents import fonts\n"
        "path = fonts.use_own_fonts()\n"
        "assert path.exists() and os.environ[fonts.VARIABLE] == str(path)\n"
        "assert fonts.use_own_fonts() is path\n"
        "print(path)"
    )
    assert ran.returncode == 0, ran.stderr
    assert not os.path.exists(ran.stdout.strip())


def test_engine_loaded_before_its_fonts_is_an_error():
    ran = run(
        "import weasyprint\nfrom relations.documents import fonts\n"
        "try:\n    fonts.use_own_fonts()\n"
        "except fonts.LateFontsError:\n    print('late')"
    )
    assert ran.stdout == "late\n", ran.stderr


def test_paper_uses_no_other_font_of_the_machine():
    ran = run(
        "from relations.documents.render import render\n"
        "from io import BytesIO\nimport pikepdf\n"
        "page = '<html lang=en><p style=\"font-family:serif\">a <b>b</b></p></html>'\n"
        "pdf = pikepdf.open(BytesIO(render(page, lang='en', title='x')))\n"
        "print(sorted(str(f.BaseFont)[8:] for f in pdf.pages[0].Resources.Font.values()))"
    )
    assert ran.returncode == 0, ran.stderr
    assert "Mukta" in ran.stdout or "Amiri" in ran.stdout
    assert not {"DejaVu", "Noto", "Liberation"} & set(ran.stdout.replace("-", " ").split())
