"""What the months of two local calendars are called: one spelling printed, many read.

Written from memory and from the tables named in bikram_sambat.csv; to be read by a speaker of each
language before a real form bears them.
"""

import re
import unicodedata
from collections.abc import Mapping

from .digits import to_ascii
from .direction import strip_marks
from .local_calendars import Calendar, LocalDay, to_gregorian, to_local

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
}
# By calendar, then language; "" is the plain transliteration for every other one. Bengali and
# Arabic months of the same sound belong to other calendars, so none is borrowed from them.
NAMES: Mapping[Calendar, Mapping[str, tuple[str, ...]]] = {
    Calendar.BIKRAM_SAMBAT: _BIKRAM_SAMBAT,
    Calendar.HIJRI: _HIJRI,
}
# How the year is marked. A Nepali date in Nepali stands without: it is the one expected there.
ERAS: Mapping[Calendar, Mapping[str, str]] = {
    Calendar.BIKRAM_SAMBAT: {"": "BS"},
    Calendar.HIJRI: {"ar": "هـ", "": "AH"},
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

# Other spellings that people type, month by month; those printed are read as well.
_TYPED: Mapping[Calendar, tuple[str, ...]] = {
    Calendar.BIKRAM_SAMBAT: (
        "बैशाख वैसाख बैसाख Baisakh Vaishakh Vaisakh",
        "जेष्ठ ज्येष्ठ Jeth Jyestha Jyeshtha",
        "आषाढ असाढ अषाढ Asar Asadh Ashar Aashadh",
        "श्रावण सावन साउण Saun Sawan Shravan Srawan",
        "भाद्र भदो Bhadau Bhado",
        "आश्विन अश्विन आसोज Asoj Asoja Aswin Aashwin",
        "कार्तिक कातिक Kattik Katik",
        "मंसिर मङसिर मङ्गसिर मार्ग मार्गशीर्ष Mansir Mangshir Marga",
        "पौष पूस पुष Pus Paush Push",
        "माह Maagh",
        "फाल्गुन फाल्गुण फागुण Phagun Phalgun Fagun",
        "चैत्र Chait Chaitya",
    ),
    Calendar.HIJRI: (
        "المحرم Moharram Mouharram",
        "Safer",
        "ربيع_أول ربيع_١ Rabi_al-awwal Rabi_ul-awwal Rabi_1",
        "ربيع_الثاني ربيع_ثان ربيع_٢ Rabi_al-thani Rabi_al-akhir Rabi_ul-thani Rabi_2",
        "جمادى_الاول جمادى_١ Jumada_al-ula Jumada_al-awwal Jumada_1",
        "جمادى_الثانية جمادى_الثاني جمادى_الآخر جمادى_٢ Jumada_al-thani Jumada_al-akhira Jumada_2",
        "رجب_الفرد Rajjab Radjab",
        "Shaaban Cha'ban Chaabane",
        "Ramadhan Ramazan Ramzan",
        "Shawal Chawwal Chaoual",
        "ذي_القعدة Dhul-Qadah Dhu_al-Qidah Zul-Qada",
        "ذي_الحجة Dhul-Hijjah Zul-Hijja",
    ),
}
# Marks over and under Latin and Arabic letters, the Arabic stretch, and signs inside a name.
_LEFT_OUT = re.compile("[\u0300-\u036f\u064b-\u065f\u0670\u0640'’ʿʾ`\\-_.\\s]")
_YEAR_FIRST = re.compile(r"(?P<y>\d{4})[-/. ](?P<m>.+?)[-/. ](?P<d>\d{1,2})")
_DAY_FIRST = re.compile(r"(?P<d>\d{1,2})[-/. ](?P<m>.+?)[-/. ](?P<y>\d{4})")
_ALIKE = str.maketrans({"ى": "ي", "ة": "ه"})


def _folded(name: str) -> str:
    """Give a name without what people leave out or write in two ways."""
    plain = _LEFT_OUT.sub("", unicodedata.normalize("NFKD", name))
    return plain.translate(_ALIKE).casefold()


def _spellings(calendar: Calendar) -> dict[str, int]:
    """Give every spelling, folded, with the number of its month."""
    found: dict[str, int] = {}
    for number, others in enumerate(_TYPED[calendar], start=1):
        printed = [names[number - 1] for names in NAMES[calendar].values()]
        found |= {_folded(name): number for name in [*printed, *others.split()]}
    return found


SPELLINGS: Mapping[Calendar, Mapping[str, int]] = {each: _spellings(each) for each in NAMES}


def month_name(calendar: Calendar, month: int, lang: str) -> str:
    """Give the printed name of a month, 1 to 12, in `lang` (BCP 47) or transliterated."""
    names = NAMES[calendar]
    return names.get(own(calendar, lang), names[""])[month - 1]


def own(calendar: Calendar, lang: str) -> str:
    """Give the language whose own names of this calendar serve `lang`; "" where none does."""
    language = lang.lower().replace("_", "-").partition("-")[0]
    return language if language in NAMES[calendar] else ""


def month_number(calendar: Calendar, name: str) -> int | None:
    """Give the number of a month typed in any spelling that we know; None for any other word."""
    return SPELLINGS[calendar].get(_folded(name))


def read_day(text: str, calendar: Calendar) -> LocalDay | None:
    """Read a day of `calendar` as typed; None for what is no such day in its checked range.

    Read: 2083-08-09 and 9/8/2083 (day first) with - / . or a space, in the digits of any script,
    and "२०८३ मङ्सिर ९" or "9 Mangsir 2083" with the month in any spelling that we know. The
    Gregorian day of the answer is `to_gregorian(*answer[:4])`.
    """
    typed = to_ascii(strip_marks(text)).strip()
    found = _YEAR_FIRST.fullmatch(typed) or _DAY_FIRST.fullmatch(typed)
    if found is None:
        return None
    name = found["m"].strip()
    month = int(name) if name.isdecimal() else month_number(calendar, name)
    day = month and to_gregorian(calendar, int(found["y"]), month, int(found["d"]))
    return to_local(day, calendar) if day else None
