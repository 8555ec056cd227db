"""What became of a form, in order, and what the paper was worth after each event."""

from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from relations.consent.events import CHANGES_NOTHING, Event, Happened, worth
from relations.consent.record import Consent, usable
from relations.consent.values import Use


def event(what: str, day: int, hour: int = 0, **rest) -> Event:
    return Event(Happened(what), datetime(2026, 11, day, hour, tzinfo=UTC), hour > 0, **rest)


LIFE = [
    (event("printed", 1, 9), Consent.REQUESTED),
    (event("carried", 1), Consent.REQUESTED),
    (event("left_with_them", 2), Consent.REQUEST_DEFERRED),
    (event("given", 3), Consent.GIVEN),
    (event("filed", 3, 18), Consent.UNKNOWN),
    (event("read", 3, 19), Consent.UNKNOWN),
    (event("doubtful", 3), Consent.UNKNOWN),
    (event("settled", 3), Consent.GIVEN),
    (event("taken_back_in_part", 4, 8, use=Use.WEB), Consent.WITHDRAWN),
    (event("taken_back", 5, 8), Consent.WITHDRAWN),
    (event("kept_as_proof", 6), Consent.WITHDRAWN),
]
EVENTS = st.builds(
    event, st.sampled_from([what.value for what in Happened]), st.integers(1, 9), st.integers(0, 9)
)


def said(events, *, is_settled=True, says_yes=True):
    return list(worth(events, is_settled=is_settled, says_yes=says_yes))


def test_life_of_a_form_has_one_status_after_each_event():
    assert said([one for one, _ in LIFE]) == LIFE


def test_order_of_a_day_is_that_of_a_life_where_an_hour_is_not_known():
    """Carried has no hour: by the clock it would stand before the printing at nine."""
    assert said(one for one, _ in reversed(LIFE)) == LIFE


def test_paper_that_says_no_to_everything_is_refused_once_settled():
    (_, state), *_rest = said([event("settled", 3)], says_yes=False)
    assert state is Consent.REFUSED


def test_what_is_replaced_or_ended_is_over_and_stays_so_as_proof():
    for what in ("replaced", "ended"):
        states = [state for _, state in said([event(what, 4), event("kept_as_proof", 5)])]
        assert states == [Consent.EXPIRED, Consent.EXPIRED]


@given(st.lists(EVENTS, max_size=12), st.booleans())
def test_nothing_is_usable_before_it_is_settled(events, says_yes):
    assert not any(usable(state) for _, state in said(events, is_settled=False, says_yes=says_yes))


@given(st.lists(EVENTS, max_size=12))
def test_every_event_is_there_once_and_proof_changes_nothing(events):
    found = said(events)
    assert sorted(map(repr, events)) == sorted(repr(one) for one, _ in found)
    states = [Consent.UNKNOWN, *(state for _, state in found)]
    for (one, after), before in zip(found, states, strict=False):
        assert one.what not in CHANGES_NOTHING or after is before
