"""What the letters of each script sound like in Latin ones, for names that are looked for.

Not a standard of romanising: the spellings that people give their names, put together by hand from
memory. Scripts of India and their kin need no table here: Unicode names their letters by sound.
"""

from functools import cache
from pathlib import Path


def _pairs(signs: str, sounds: str) -> dict[str, str]:
    """One sound for each sign, in order; "-" is no sound at all."""
    said = ("" if sound == "-" else sound for sound in sounds.split())
    return dict(zip(signs, said, strict=True))


def _said(pairs: str) -> dict[str, str]:
    """A sign's name and its sound in turn; "_" is a blank, "-" no sound at all."""
    names, sounds = pairs.split()[::2], pairs.split()[1::2]
    return {
        name.replace("_", " "): sound.replace("-", "")
        for name, sound in zip(names, sounds, strict=True)
    }


CYRILLIC = {
    **_pairs(
        "абвгдежзийклмнопрстуфхцчшщъыьэюя",
        "a b v g d e zh z i i k l m n o p r s t u f kh ts ch sh shch - y - e yu ya",
    ),
    **_pairs("ёєіїґўјљњћђџѓќѕәғқңөұүһ", "yo e i i g u j l n c dj dz g k dz a g k n o u u h"),
}
GREEK = _pairs("αβγδεζηθικλμνξοπρσςτυφχψω", "a v g d e z i th i k l m n x o p r s s t y f ch ps o")
GEORGIAN = _pairs(
    "აბგდევზთიკლმნოპჟრსტუფქღყშჩცძწჭხჯჰ",
    "a b g d e v z t i k l m n o p zh r s t u p k gh q sh ch ts dz ts ch kh j h",
)
ARMENIAN = _pairs(
    "աբգդեզէըթժիլխծկհձղճմյնշոչպջռսվտրցւփքօֆև",
    "a b g d e z e e t zh i l kh ts k h dz gh ch m y n sh o ch p j r s v t r ts u p k o f ev",
)
HEBREW = _pairs(
    "אבגדהוזחטיךכלםמןנסעףפץצקרשת", "a v g d h u z h t i k k l m m n n s a f p ts ts k r sh t"
)
ARABIC = {
    **_pairs("اآأإٱبتثجحخدذرزسش", "a a a i a b t th j h kh d dh r z s sh"),
    **_pairs("صضطظعغفقكکلمنهہھةيیىئوؤء", "s d t z a gh f q k k l m n h h h a i i a i u u -"),
    **_pairs("پچژگٹڈڑںےۓێۆڤۀەڕڵ", "p ch zh g t d r n e e e o v a a r l"),
}
# What Persian and Urdu speakers say for four letters of Arabic.
PERSIAN = {"ث": "s", "ذ": "z", "ض": "z", "ظ": "z"}

# Hangul in its parts (Unicode 3.12): 19 beginnings, 21 vowels, 28 endings; and how families spell
# the syllables of their names.
_BEGINNINGS = "g kk n d tt r m b pp s ss - j jj ch k t p h"
_VOWELS = "a ae ya yae eo e yeo ye o wa wae oe yo u wo we wi yu eu ui i"
_ENDINGS = "- k k k n n n t l k m l l l p l m p p t t ng t t k t p t"
BEGINNINGS, VOWELS, ENDINGS = (
    ["" if sound == "-" else sound for sound in sounds.split()]
    for sounds in (_BEGINNINGS, _VOWELS, _ENDINGS)
)
FAMILIES = _said(
    "gim kim bak park i lee choe choi jeong jung im lim gang kang jo cho yun yoon gwon kwon u woo "
    "an ahn sin shin yu yoo no roh mun moon go ko"
)

# What Unicode's names of letters do not say: how the letter is spelt in names. Of the scripts of
# India and their kin, then of Myanmar and Ethiopia; "-" is no sound, "_" a blank in such a name.
SOUNDS = _said(
    "TT t TTH th DD d DDH dh NN n NNN n SS sh LL l LLL l RR r RH rh C ch CH chh YY y"
) | (_said("KHANDA_T t GGH gh DDDH rh"))
VOWEL_SOUNDS = _said(
    "AA a II i UU u EE e OO o VOCALIC_R ri CANDRA_E e CANDRA_O o SHORT_E e SHORT_O o TALL_AA a "
    "MAI_KAN a MAI_KON o"
)
# A dot below makes another letter of these.
WITH_DOT = _said("d r dh rh ph f j z")
# Where a stop of Tamil stands alone after a vowel, it is voiced.
TAMIL_VOICED = _said("k g t d p b ch s")
MYANMAR_SOUNDS = _said("TH ht S th C s CH hs")
ETHIOPIC_SOUNDS = _said("SZ s HH h X h TZ ts C ch TH t PH p GLOTTAL_ - PHARYNGEAL_ -")

# Tibetan stacks as they are said: letters before the root that are silent, those after it that end
# otherwise, and what becomes of a root with r or y below.
TIBETAN_SILENT = frozenset({"g", "d", "b", "m", "-"})
TIBETAN_ENDINGS = _said("g k b p s - d -") | {"-": ""}
TIBETAN_WITH_R = _said("k t kh t g d p t ph t b d")
TIBETAN_WITH_Y = _said("p ch ph ch b j m ny")

# The commonest signs of Chinese families and given names, by their sound without tones.
_HAN = Path(__file__).with_name("han_names.csv")


@cache
def han() -> dict[str, str]:
    """The sound of each sign, read once from a table put together by hand from memory."""
    _columns, *rows = _HAN.read_text(encoding="utf-8").splitlines()
    return {sign: sound for row in rows for sound, signs in [row.split(",")] for sign in signs}
