"""The order of names beside that of ICU, which the browser brings (Intl.Collator)."""

from itertools import combinations

import pytest

from relations.languages.sorting import sort_key

FR = """
    Éloi Elise Elias Zoé Zacharie Œdipe Odile Ophélie Ça Camille Cédric Cécile Émile Emma Ève Eva
    Noël Noa Noé François Franz Anaïs Anabelle Étienne Estelle Léa Léo Leïla Maëlle Marcel O’Brien
    Obama D’Arc Darcy
"""
ES = """
    Ángel Ana Nuria Nube Zoe Óscar Oscar Olga Íñigo Inés Ines Úrsula Umbra Ñaña Núñez Nunez Begoña
    Benito Álvaro Alba José Josefa Joaquín Jesús Peña Pena Pérez
"""
NE = """
    अनिता अमृता आरती इन्दिरा ईश्वर उमा ऊषा ऋषि एलिना ऐश्वर्या ओम कमल कमला कल्पना काव्या किरण कीर्ति
    कुमार कृष्ण क्षितिज गंगा गणेश गौरी घनश्याम चन्द्र छाया जीवन ज्ञानु झलक टीका ठाकुर डम्बर ढुण्डी तारा
    थापा दिपक धर्म नारायण पद्मा प्रकाश फूल बिमला भीम मनिषा यशोदा रमेश राम लक्ष्मी विष्णु शान्ति श्याम
    सीता हरि त्रिशला
"""
AR = """
    أحمد احمد إبراهيم ابراهيم آمنة امل أمل إياد اياد بشرى باسم تامر ثريا جمال حسن خالد دلال ذكرى رؤى
    رامي رئيفة زينب سامي سؤدد شادي صفاء ضياء طارق عائشة عادل فؤاد فادي قاسم كمال لؤي لمى مريم مؤمن
    نائلة نادر هدى هاني هناء وائل وليد يوسف يونس فاطمة فاطمه هبة هبه
"""
FA = "آرش آزاده اردشیر پریسا ترانه ثریا چنگیز ژاله کاوه گلنار لیلا مهتاب یاسمن"
NAMES = {"fr": FR, "es": ES, "ne": NE, "ar": AR, "fa": FA}
# Pairs that ICU has the other way round: one order serves readers of every language, so that ñ
# stands with n; and two hamzas of which one is followed by another letter.
OTHERWISE = {
    "es": {("Nuria", "Ñaña"), ("Nube", "Ñaña"), ("Ñaña", "Núñez"), ("Ñaña", "Nunez")},
    "ar": {("رؤى", "رامي"), ("رامي", "رئيفة")},
}
COMPARED = """([language, names]) => {
  const {compare} = new Intl.Collator(language);
  return names.map(one => names.map(other => Math.sign(compare(one, other))));
}"""


@pytest.mark.parametrize("language", NAMES)
def test_names_stand_as_icu_has_them(language, open_page):
    names = NAMES[language].split()
    icu = open_page().evaluate(COMPARED, [language, names])
    keys = [sort_key(name) for name in names]
    found = {
        (names[one], names[other])
        for one, other in combinations(range(len(names)), 2)
        if (keys[one] > keys[other]) - (keys[one] < keys[other]) != icu[one][other]
    }
    assert found == OTHERWISE.get(language, set())
