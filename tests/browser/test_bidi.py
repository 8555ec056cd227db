"""What is set into a line of the other direction stands in its own order, on screen by position."""

import pytest

from relations.languages.templatetags.words import iso, ltr
from tests.browser.conftest import come_in
from tests.browser.test_every_page import MIRRORED
from tests.outside.test_bidi import CASES, WAYS, bare, line

MANY = 100
# Every sign of the page's text with the left edge of its own box.
PLACED = """() => {
  const found = [], texts = document.createTreeWalker(document.querySelector("main, body"), 4);
  while (texts.nextNode()) {
    for (let at = 0; at < texts.currentNode.length; at++) {
      const range = document.createRange();
      range.setStart(texts.currentNode, at);
      range.setEnd(texts.currentNode, at + 1);
      for (const box of range.getClientRects())
        if (box.width) found.push([box.left, texts.currentNode.data[at]]);
    }
  }
  return found.sort((one, other) => one[0] - other[0]);
}"""

# What each part that runs from the left says, and how its signs stand, line by line.
APART = """() => [...document.querySelectorAll("main bdi[dir=ltr], main .code, main .num")]
  .filter(one => one.checkVisibility())
  .filter(one => /^[\\x21-\\x7e]*\\d[\\x21-\\x7e]*$/.test(one.textContent.trim()))
  .map(one => {
    const signs = [], texts = document.createTreeWalker(one, 4);
    while (texts.nextNode()) {
      for (let at = 0; at < texts.currentNode.length; at++) {
        const range = document.createRange();
        range.setStart(texts.currentNode, at);
        range.setEnd(texts.currentNode, at + 1);
        const box = range.getBoundingClientRect();
        if (box.width && texts.currentNode.data[at].trim())
          signs.push([Math.round(box.bottom / 12), box.left, texts.currentNode.data[at]]);
      }
    }
    const said = signs.map(sign => sign[2]).join("");
    signs.sort((one, other) => one[0] - other[0] || one[1] - other[1]);
    return {said: said, seen: signs.map(sign => sign[2]).join("")};
  })"""


@pytest.fixture(scope="module")
def shown(browser):
    """`shown(html)`: every sign of a page, from the left."""
    context = browser.new_context(java_script_enabled=True)
    page = context.new_page()

    def look(html):
        page.set_content(html)
        return [(left, sign) for left, sign in page.evaluate(PLACED) if sign.strip()]

    yield look
    context.close()


def from_the_left(found):
    return "".join(sign for _left, sign in found if sign.isascii())


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_token_in_an_arabic_line_is_read_from_the_left(case, way, shown):
    assert from_the_left(shown(line(WAYS[way](case.typed)))) == bare(case.typed)


@pytest.mark.parametrize(
    "case", [one for one in CASES.values() if one.turned], ids=lambda case: case.typed
)
def test_the_measure_sees_what_is_turned_without_isolation(case, shown):
    assert from_the_left(shown(line(case.typed))) == bare(case.turned)


def test_arabic_name_in_an_english_line_turns_nothing_beside_it(shown):
    said = f"<main><p>{iso('مريم')}, 3 prints: {ltr('984-1234567')}</p></main>"
    found = shown(said)
    arabic = [left for left, sign in found if not sign.isascii()]
    rest = [(left, sign) for left, sign in found if sign.isascii()]
    assert from_the_left(found) == ",3prints:984-1234567"
    assert arabic and max(arabic) < min(left for left, _sign in rest)
    # As languages.md 3 has it: without isolation the number and the comma change places.
    turned = shown("<main><p>مريم, 3 prints</p></main>")
    assert (
        max(left for left, sign in turned if not sign.isascii())
        > min(left for left, sign in turned if sign.isascii())
        or from_the_left(turned) != ",3prints"
    )


def test_codes_and_figures_of_mirrored_pages_read_from_the_left(site, open_page):
    """Whatever our pages set apart runs as it says, sign by sign, right-to-left around it."""
    page, apart = open_page(), []
    come_in(page, site, "ines")
    for address in MIRRORED:
        page.goto(site + address)
        page.evaluate("document.documentElement.dir = 'rtl'")
        apart += [{"page": address, **one} for one in page.evaluate(APART)]
    assert len(apart) > MANY
    assert [one for one in apart if one["seen"] != one["said"]] == []
