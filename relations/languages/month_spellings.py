"""Other spellings of months that people type, calendar by calendar; those printed are read as well.

One string a month, spellings parted by spaces; "_" stands for a space inside one. From memory.
"""

from collections.abc import Mapping

from .local_calendars import Calendar

# Months of the Gregorian year in other languages, as people write and shorten them. Arabic has
# several sets: of the Gulf and Egypt, of the Levant, of the Maghreb.
_GREGORIAN = (
    "jan janv enero ene janeiro gennaio januar جانفي كانون_الثاني ژانویه ม.ค. জানুয়ারি जनवरि Ocak",
    "feb févr fév febrero fevereiro fev febbraio februar فيفري شباط فوریه ก.พ. ফেব্রুয়ারি "
    "फेब्रुवरी फरवरी Şubat",
    "mar marzo março märz آذار মার্চ มี.ค. Mart",
    "apr avr abril abr aprile أفريل إبريل نيسان آوریل এপ্রিল เม.ย. अप्रैल Nisan",
    "mayo maio maggio ماي أيار مه মে พ.ค. मई Mayıs",
    "jun junio junho giugno juni جوان حزيران ژوئن জুন มิ.ย. जून Haziran",
    "jul juil julio julho luglio juli جويلية يوليوز تموز ژوئیه জুলাই ก.ค. जुलाइ Temmuz",
    "aug ago agosto غشت أوت آب اوت আগস্ট ส.ค. अगस्त Ağustos",
    "sep sept septiembre setembro set settembre شتنبر أيلول سپتامبر সেপ্টেম্বর ก.ย. सितम्बर Eylül",
    "oct octubre outubro out ottobre oktober تشرين_الأول اکتبر অক্টোবর ต.ค. अक्तूबर Ekim",
    "nov noviembre novembro نونبر تشرين_الثاني نوامبر নভেম্বর พ.ย. नवम्बर Kasım",
    "dec déc dic diciembre dezembro dez dicembre dezember دجنبر كانون_الأول دسامبر ডিসেম্বর ธ.ค. "
    "दिसम्बर Aralık",
)
TYPED: Mapping[Calendar, tuple[str, ...]] = {
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
    Calendar.SOLAR_HIJRI: (
        "Hamal Wray Farwardin",
        "Sawr Saur Ghwayay Ordibehest Ordibehecht Urdibihisht",
        "Jawza Ghbargolay Xordad",
        "Saratan Chungakh",
        "Asad Zmaray امرداد Amordad",
        "Sonbola Sunbula Sumbula Wazhay سنبلة Shahriwar Chahrivar",
        "Mizan Tala Mihr",
        "Aqrab Akrab Larum",
        "Qaws Qaus Lindai لیندی Adhar",
        "Jadi Jady Marghumay Dei",
        "Dalw Dalwa Salwagha",
        "Hut Hoot Kab Isfand Espand",
    ),
    Calendar.ETHIOPIAN: (
        "Mäskäräm Maskaram",
        "Tikemt Tiqimt Teqemt Tekemt",
        "Hedar Hədar ህዳር",
        "Tahisas Tahesas Tahsass ታህሳስ",
        "Ter Terr",
        "Yakatit Yekatite",
        "Magabit Meggabit",
        "Miazia Miyaziya Mazia",
        "Genbot Guenbot",
        "Sane Senie",
        "Hamlie",
        "Nehasse Nahase ነሃሴ",
        "Pagumen Pagume_n ጳጉሜ Pwagume",
    ),
    Calendar.BUDDHIST: _GREGORIAN,
    Calendar.GREGORIAN: _GREGORIAN,
}
