"""What the months of each calendar are called: one spelling printed, many read.

Written from memory and from the tables named in bikram_sambat.csv; to be read by a speaker of each
language before a real form bears them.
"""

import re
import unicodedata
from collections.abc import Mapping

from .digits import to_ascii
from .local_calendars import Calendar
from .month_spellings import TYPED

_BIKRAM_SAMBAT = {
    "ne": (
        *("वैशाख", "जेठ", "असार", "साउन", "भदौ", "असोज"),
        *("कात्तिक", "मङ्सिर", "पुस", "माघ", "फागुन", "चैत"),
    ),
    "": (
        *("Baishakh", "Jestha", "Ashadh", "Shrawan", "Bhadra", "Ashwin"),
        *("Kartik", "Mangsir", "Poush", "Magh", "Falgun", "Chaitra"),
    ),
}
_HIJRI = {
    "ar": (
        *("محرم", "صفر", "ربيع الأول", "ربيع الآخر", "جمادى الأولى", "جمادى الآخرة"),
        *("رجب", "شعبان", "رمضان", "شوال", "ذو القعدة", "ذو الحجة"),
    ),
    "": (
        *("Muharram", "Safar", "Rabi I", "Rabi II", "Jumada I", "Jumada II"),
        *("Rajab", "Shaban", "Ramadan", "Shawwal", "Dhu al-Qada", "Dhu al-Hijja"),
    ),
    "fr": (
        *("Mouharram", "Safar", "Rabia I", "Rabia II", "Joumada I", "Joumada II"),
        *("Rajab", "Chaabane", "Ramadan", "Chawwal", "Dhou al-qida", "Dhou al-hijja"),
    ),
}
_SOLAR_HIJRI = {
    "fa": (
        *("فروردین", "اردیبهشت", "خرداد", "تیر", "مرداد", "شهریور"),
        *("مهر", "آبان", "آذر", "دی", "بهمن", "اسفند"),
    ),
    # Afghanistan calls the same months by other names (languages.md 1.4).
    "fa-af": (
        *("حمل", "ثور", "جوزا", "سرطان", "اسد", "سنبله"),
        *("میزان", "عقرب", "قوس", "جدی", "دلو", "حوت"),
    ),
    "ps": (
        *("وری", "غویی", "غبرګولی", "چنګاښ", "زمری", "وږی"),
        *("تله", "لړم", "لیندۍ", "مرغومی", "سلواغه", "کب"),
    ),
    "ar": (
        *("فروردين", "أرديبهشت", "خرداد", "تير", "مرداد", "شهريور"),
        *("مهر", "آبان", "آذر", "دي", "بهمن", "إسفند"),
    ),
    "ne": (
        *("फरवर्दिन", "उर्दिबेहेश्त", "खोर्दाद", "तीर", "मोर्दाद", "शहरिवर"),
        *("मेहर", "आबान", "आजर", "देय", "बहमन", "एस्फन्द"),
    ),
    "fr": (
        *("farvardin", "ordibehecht", "khordad", "tir", "mordad", "chahrivar"),
        *("mehr", "aban", "azar", "dey", "bahman", "esfand"),
    ),
    "": (
        *("Farvardin", "Ordibehesht", "Khordad", "Tir", "Mordad", "Shahrivar"),
        *("Mehr", "Aban", "Azar", "Dey", "Bahman", "Esfand"),
    ),
}
_ETHIOPIAN = {
    "am": (
        *("መስከረም", "ጥቅምት", "ኅዳር", "ታኅሣሥ", "ጥር", "የካቲት", "መጋቢት"),
        *("ሚያዝያ", "ግንቦት", "ሰኔ", "ሐምሌ", "ነሐሴ", "ጳጉሜን"),
    ),
    "ti": (
        *("መስከረም", "ጥቅምቲ", "ሕዳር", "ታሕሳስ", "ጥሪ", "ለካቲት", "መጋቢት"),
        *("ሚያዝያ", "ግንቦት", "ሰነ", "ሓምለ", "ነሓሰ", "ጳጉሜን"),
    ),
    "ar": (
        *("مسكرم", "تقمت", "هدار", "تهساس", "طر", "يكاتيت", "مجابيت"),
        *("ميازيا", "جنبوت", "سني", "حملي", "نهاسي", "باجومي"),
    ),
    "ne": (
        *("मेस्केरेम", "टिकिम्ट", "हिदार", "ताहसास", "तिर", "येकातित", "मेगाबित"),
        *("मियाज्या", "गिन्बोत", "सेने", "हाम्ले", "नेहासे", "पागुमे"),
    ),
    "fr": (
        *("meskerem", "tekemt", "hedar", "tahsas", "ter", "yekatit", "megabit"),
        *("miyazya", "guenbot", "sené", "hamlé", "nehassé", "pagoumen"),
    ),
    "": (
        *("Meskerem", "Tikimt", "Hidar", "Tahsas", "Tir", "Yekatit", "Megabit"),
        *("Miyazya", "Ginbot", "Sene", "Hamle", "Nehase", "Pagume"),
    ),
}
# The year is another one, the months are the Gregorian ones.
_BUDDHIST = {
    "th": (
        *("มกราคม", "กุมภาพันธ์", "มีนาคม", "เมษายน", "พฤษภาคม", "มิถุนายน"),
        *("กรกฎาคม", "สิงหาคม", "กันยายน", "ตุลาคม", "พฤศจิกายน", "ธันวาคม"),
    ),
    "ar": (
        *("يناير", "فبراير", "مارس", "أبريل", "مايو", "يونيو"),
        *("يوليو", "أغسطس", "سبتمبر", "أكتوبر", "نوفمبر", "ديسمبر"),
    ),
    "ne": (
        *("जनवरी", "फेब्रुअरी", "मार्च", "अप्रिल", "मे", "जुन"),
        *("जुलाई", "अगस्ट", "सेप्टेम्बर", "अक्टोबर", "नोभेम्बर", "डिसेम्बर"),
    ),
    "fr": (
        *("janvier", "février", "mars", "avril", "mai", "juin"),
        *("juillet", "août", "septembre", "octobre", "novembre", "décembre"),
    ),
    "": (
        *("January", "February", "March", "April", "May", "June"),
        *("July", "August", "September", "October", "November", "December"),
    ),
}
# By calendar, then language; "" is the plain transliteration for every other one. Bengali and
# Arabic months of the same sound belong to other calendars, so none is borrowed from them.
NAMES: Mapping[Calendar, Mapping[str, tuple[str, ...]]] = {
    Calendar.BIKRAM_SAMBAT: _BIKRAM_SAMBAT,
    Calendar.HIJRI: _HIJRI,
    Calendar.SOLAR_HIJRI: _SOLAR_HIJRI,
    Calendar.ETHIOPIAN: _ETHIOPIAN,
    Calendar.BUDDHIST: _BUDDHIST,
}
# How the year is marked. A Nepali date in Nepali stands without: it is the one expected there.
ERAS: Mapping[Calendar, Mapping[str, str]] = {
    Calendar.BIKRAM_SAMBAT: {"": "BS"},
    Calendar.HIJRI: {"ar": "هـ", "fr": "AH", "": "AH"},
    Calendar.SOLAR_HIJRI: {
        **dict.fromkeys(("fa", "fa-af", "ps"), "ه\u200d.ش"),
        "ar": "هـ.ش",
        "ne": "हिजरी शम्सी",
        "fr": "SH",
        "": "SH",
    },
    Calendar.ETHIOPIAN: {
        **dict.fromkeys(("am", "ti"), "ዓ.ም."),
        "ar": "إثيوبية",
        "ne": "इथियोपियाली",
        "fr": "EC",
        "": "EC",
    },
    # "Buddhist" alone would be read in Nepal as a year that is one more.
    Calendar.BUDDHIST: {
        "th": "พ.ศ.",
        "ar": "بوذية تايلندية",
        "ne": "थाई बुद्ध संवत्",
        "fr": "EB",
        "": "BE",
    },
}
# Said beside a day that a later almanac may move.
PROVISIONAL: Mapping[str, str] = {
    "en": "provisional",
    "fr": "provisoire",
    "es": "provisional",
    "pt": "provisório",
    "ar": "مؤقت",
    "ne": "अस्थायी",
    "bn": "অস্থায়ী",
}

# Marks over and under Latin and Arabic letters, the Arabic stretch, and signs inside a name.
_LEFT_OUT = re.compile("[\u0300-\u036f\u064b-\u065f\u0670\u0640\u200c\u200d'’ʿʾ`\\-_.\\s]")
# Arabic and Persian keyboards write the same letter in two ways; signs of Amharic that sound alike.
_ALIKE = str.maketrans(
    {"ى": "ي", "ة": "ه", "ی": "ي", "ۍ": "ي", "ې": "ي", "ک": "ك", "ګ": "گ", "ሕ": "ህ", "ኅ": "ህ"}
    | {"ሐ": "ሀ", "ሓ": "ሀ", "ኀ": "ሀ", "ሣ": "ሳ", "ሥ": "ስ", "ሠ": "ሰ", "ዐ": "አ", "ፀ": "ጸ"}
)


def folded(name: str) -> str:
    """Give a name without what people leave out or write in two ways."""
    plain = _LEFT_OUT.sub("", unicodedata.normalize("NFKD", to_ascii(name)))
    return plain.translate(_ALIKE).casefold()


def _read(calendar: Calendar) -> Mapping[str, tuple[str, ...]]:
    """Give the printed names that are read as months of `calendar`."""
    return _BUDDHIST if calendar is Calendar.GREGORIAN else NAMES[calendar]


def _spellings(calendar: Calendar) -> dict[str, int]:
    """Give every spelling, folded, with the number of its month."""
    found: dict[str, int] = {}
    for number, others in enumerate(TYPED[calendar], start=1):
        printed = [names[number - 1] for names in _read(calendar).values()]
        found |= {folded(name): number for name in [*printed, *others.split()]}
    return found


SPELLINGS: Mapping[Calendar, Mapping[str, int]] = {each: _spellings(each) for each in Calendar}


def month_name(calendar: Calendar, month: int, lang: str) -> str:
    """Give the printed name of a month, 1 to 12 or 13, in `lang` (BCP 47) or transliterated."""
    names = NAMES[calendar]
    return names.get(own(calendar, lang), names[""])[month - 1]


def own(calendar: Calendar, lang: str) -> str:
    """Give the tag whose own names of this calendar serve `lang`; "" where none does."""
    tag = lang.lower().replace("_", "-")
    language = tag.partition("-")[0]
    return next((each for each in (tag, language) if each and each in NAMES[calendar]), "")


def month_number(calendar: Calendar, name: str) -> int | None:
    """Give the number of a month typed in any spelling that we know; None for any other word.

    The Gregorian calendar and that of Thailand share their months.
    """
    return SPELLINGS[calendar].get(folded(name))
