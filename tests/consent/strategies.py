"""Chance people, forms, pictures and plans for the properties of the weighing."""

from datetime import date

from hypothesis import settings
from hypothesis import strategies as st

from relations.consent.values import (
    ALL,
    Decision,
    Form,
    NameForm,
    Person,
    Picture,
    Plan,
    Quote,
    Sitter,
    Use,
    Wish,
)
from relations.people.values import Birth, Condition, Risk
from relations.pictures.values import Others, PlaceWord, Recognisable

TODAY = date(2026, 11, 23)
sixty_times = settings(max_examples=60)
CODES = ("a", "b", "c")
DAYS = st.dates(date(2023, 1, 1), date(2029, 12, 31))
PAST = st.dates(date(2023, 1, 1), TODAY)
MAYBE_DAY = st.none() | DAYS
USES = st.frozensets(st.sampled_from(Use), min_size=6)
COUNTRIES = st.frozensets(st.sampled_from(["FR", "PE", "SN"]))
BIRTHS = (
    st.none()
    | st.builds(Birth.on, st.dates(date(1950, 1, 1), date(2012, 12, 31)))
    | st.builds(Birth.in_year, st.integers(2003, 2012))
)


def some(*items: str) -> st.SearchStrategy[frozenset[str]]:
    """Any of the items."""
    return st.frozensets(st.sampled_from(items))


FORMS = st.builds(
    Form,
    given_on=PAST,
    sittings=st.just(frozenset({"s1"})) | st.just(frozenset({"s1", "s2"})) | some("s2"),
    uses=USES,
    is_filed=st.booleans(),
    is_read=st.booleans(),
    is_complete=st.booleans(),
    only_countries=st.none() | COUNTRIES,
    not_countries=st.just(frozenset()) | COUNTRIES,
    knows_seen_everywhere=st.booleans(),
    first_day=MAYBE_DAY,
    last_day=MAYBE_DAY,
    name_form=st.sampled_from(NameForm),
    agreed_name=st.sampled_from([None, "Rose", "Lune"]),
    is_faceless=st.booleans(),
    shows_first=st.booleans(),
    pictures_accepted=some("p1", "p2"),
    pictures_refused=some("p1", "p2"),
    approves_captions=st.booleans(),
    captions_accepted=some("c1", "c2"),
    quotes_accepted=some("q1", "q2"),
    place_word=st.sampled_from(PlaceWord),
    has_own_condition=st.booleans(),
    own_condition_decided=st.dictionaries(st.sampled_from(Use), st.sampled_from(Decision)),
    if_cannot_answer=st.sampled_from(Wish),
    if_died=st.sampled_from(Wish),
    guardians_yes=st.integers(0, 2),
    guardian_no=st.booleans(),
    childs_yes=st.sampled_from([None, True, False]),
)
# Forms that stand and ask little, so that something is also cleared.
EASY_FORMS = st.builds(
    Form,
    given_on=PAST,
    sittings=st.just(frozenset({"s1"})),
    uses=st.just(frozenset(Use)),
    is_filed=st.just(True),
    is_read=st.just(True),
    is_complete=st.just(True),
    name_form=st.just(NameForm.FULL),
    place_word=st.just(PlaceWord.EXACT),
    last_day=MAYBE_DAY,
    quotes_accepted=st.just(frozenset({"q1", "q2"})),
)


def people(code: str) -> st.SearchStrategy[Person]:
    """Somebody under that code."""
    return st.builds(
        Person,
        code=st.just(code),
        birth=BIRTHS,
        met_as_adult=st.booleans(),
        authority_holders=st.integers(1, 2),
        condition=st.sampled_from([Condition.WELL, *Condition]),
        condition_on=MAYBE_DAY,
        speaker_yes=st.dictionaries(st.sampled_from(Use), DAYS),
        risk=st.none() | st.sampled_from(Risk),
        last_talk_on=MAYBE_DAY,
        is_on_hold=st.integers(0, 9).map(lambda n: n == 0),
        taken_back=st.dictionaries(st.sampled_from([ALL, *Use]), PAST, max_size=1),
        never_print=st.sampled_from([(), ("Rose",), ("Ali", "ইউনুস")]),
        forms=st.lists(EASY_FORMS | FORMS, max_size=3, unique_by=lambda f: f.given_on).map(tuple),
    )


def easy_people(code: str) -> st.SearchStrategy[Person]:
    """Somebody of age under that code, at no risk, whose forms ask little."""
    return st.builds(
        Person,
        code=st.just(code),
        birth=st.just(Birth.on(date(1980, 1, 1))),
        met_as_adult=st.just(True),
        risk=st.sampled_from(Risk),
        last_talk_on=st.just(TODAY),
        forms=st.lists(EASY_FORMS, min_size=1, max_size=1).map(tuple),
    )


SITTERS = st.lists(
    st.builds(Sitter, st.sampled_from(CODES), st.sampled_from(Recognisable)),
    min_size=1,
    max_size=3,
    unique_by=lambda sitter: sitter.code,
).map(tuple)
PICTURES = st.builds(
    Picture,
    id=st.just("p1"),
    sitting=st.just("s1"),
    made_on=PAST,
    sitters=SITTERS,
    others=st.sampled_from(Others),
    is_on_hold=st.integers(0, 9).map(lambda n: n == 0),
    caption=st.sampled_from([None, "c1", "c2"]),
    words=st.sampled_from(["", "Rose, at the pump", "Réalisme"]),
    place_word=st.sampled_from(PlaceWord),
    alt_text=st.sampled_from(["", "ইউনুসের ঘাট"]),
    file_name=st.sampled_from(["p1.jpg", "ali_02.jpg"]),
    quotes=st.lists(
        st.builds(Quote, st.sampled_from(["q1", "q2", "q3"]), st.sampled_from(CODES)), max_size=2
    ).map(tuple),
)
PLANS = st.builds(
    Plan,
    use=st.sampled_from(Use),
    starts_on=st.dates(TODAY, date(2028, 12, 31)),
    countries=st.none() | COUNTRIES.filter(bool),
    ends_on=st.none() | st.dates(date(2029, 1, 1), date(2029, 12, 31)),
    is_one_day=st.booleans(),
    is_paper_only=st.booleans(),
    shows_captions=st.booleans(),
    names=st.dictionaries(st.sampled_from(CODES), st.sampled_from(NameForm)),
)
EVERYBODY = st.fixed_dictionaries({code: people(code) for code in CODES})
EASY_PEOPLE = st.fixed_dictionaries({code: easy_people(code) for code in CODES})
