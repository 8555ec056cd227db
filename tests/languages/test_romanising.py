"""Names in every script, as people spell them in Latin letters."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.romanising import is_bare, romanise


# Spelt by hand; what comes of a script with few vowels has few.
@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("Nguyễn Văn Thành", "nguyen van thanh"),
        ("Łukasz Wójcik", "lukasz wojcik"),
        ("al-Zahra, O’Brien", "al zahra obrien"),
        ("सीता गुरुङ", "sita gurung"),
        ("कृष्ण प्रसाद शर्मा", "krishna prasad sharma"),
        ("राम बहादुर", "ram bahadur"),
        ("ज्ञानेन्द्र फ़राज़ कपड़ा", "gyanendra faraz kapara"),
        ("রিনা আক্তার", "rina aktar"),
        ("முருகன் செல்வி தம்பி", "murugan selvi tampi"),
        ("ਗੁਰਪ੍ਰੀਤ ਸਿੰਘ", "guraprit singh"),
        ("အောင်အောင် ထွေး", "aungaung htwe"),
        ("བཀྲ་ཤིས་རྡོ་རྗེ", "ta shi do je"),
        ("༄ ཀ།", "ka"),
        ("སྒྲོལ་མ་སྤེན་པ", "dol ma pen pa"),
        ("བསྟན་འཛིན་བྱམས", "tan dzin jam"),
        ("དམར་ལགས་ཨོ་ཀྱི་བློ", "mar lak o kyi lo"),
        ("សុខា", "sukha"),
        ("فاطمة الزهراء", "fatma zhra"),
        ("محمد ولد يوسف", "mhmd vld yusf"),
        ("نوید جواد", "nvid jvad"),
        ("عُمَر معاوية", "amr mavia"),
        ("מרים כץ", "mrim kts"),
        ("Сергей Соловьёв", "sergei solovyov"),
        ("Олена Їжакевич", "olena izhakevich"),
        ("Γιώργος Μπουζιάνης", "giorgos bouzianis"),
        ("გიორგი ბერიძე", "giorgi beridze"),
        ("Արմեն Սարգսյան", "armen sargsyan"),
        ("김민지", "kim minji"),
        ("박 지수", "park ji su"),
        ("남궁민수아리", "namgungminsuari"),
        ("王小明", "wang xiaoming"),
        ("さくら ハナ", "sakura hana"),
        ("สมชาย ใจดี", "smchay jaidee"),
        ("นิรันดร์ สุวรรณ", "nirand suwan"),
        ("อารี ๒", "aree"),
        ("ສົມຊາຍ ເດຊາ", "somsany desa"),
        ("ፀጋዬ በቀለ እሌኒ", "tsegaye beqele eleni"),
    ],
)
def test_a_name_is_spelt_as_people_spell_it(name: str, said: str) -> None:
    assert romanise(name) == said


@pytest.mark.parametrize(
    ("name", "said"),
    [("رضا", "rza"), ("ذكرى ثريا", "zkra sria"), ("דוד", "dvd"), ("Reza", "reza")],
)
def test_letters_that_are_said_in_two_ways_are_read_in_the_other(name: str, said: str) -> None:
    assert romanise(name, otherwise=True) == said


@pytest.mark.parametrize("name", ["", " ", "–", "123", "‎", "…", "☐"])
def test_what_has_no_letter_says_nothing_or_its_figures(name: str) -> None:
    assert romanise(name).strip("0123456789") == ""


def test_signs_that_no_table_knows_are_left_out() -> None:
    assert romanise("王龘") == "wang"
    assert romanise("ᄀ가").strip() == "ga"


def test_scripts_with_few_vowels_are_known() -> None:
    assert [is_bare(name) for name in ("محمد", "דוד", "Mohammed", "राम")] == [1, 1, 0, 0]


LETTERS = st.characters(categories=("L", "M", "N", "Zs", "Pd", "Cf"))


@given(st.text(LETTERS, max_size=20), st.booleans())
def test_whatever_is_typed_becomes_words_parted_by_one_space(name: str, otherwise: bool) -> None:
    said = romanise(name, otherwise=otherwise)
    assert said == " ".join(said.split())
