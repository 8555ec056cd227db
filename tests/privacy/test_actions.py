"""What artist and keeper do for those who sign in; each is noted, none takes the other's place."""

import pytest
from django.test import Client

from relations.privacy import actions, devices
from relations.privacy.models import AccessEntry, Role, User, WrongTries
from relations.privacy.refused import Refused
from tests.rows import make

pytestmark = pytest.mark.django_db
PASSWORD = "the invented tide comes in twice"


def someone(name, role=Role.ASSISTANT):
    return User.objects.create_user(name, None, role=role, called=name)


@pytest.fixture
def keeper():
    return someone("aude", Role.KEEPER)


@pytest.fixture
def loic():
    return someone("loic")


@pytest.fixture
def phone(loic):
    client = Client()
    client.force_login(loic)
    return client


def is_in(client):
    return client.get("/own/").status_code == 200


def last():
    entry = AccessEntry.objects.last()
    return (entry.verb, entry.by, entry.key)


def add(by, **said):
    usual = {"username": "maelle", "called": "Maëlle", "role": "assistant", "password": PASSWORD}
    return actions.add(**usual | said, by=by)


def test_somebody_added_signs_in_with_the_first_password(keeper):
    user = add(keeper)
    assert user.check_password(PASSWORD)
    assert (user.role, user.called, user.asks_code) == (Role.ASSISTANT, "Maëlle", False)
    assert user.must_choose_password
    assert last() == ("account_added", keeper.pk, user.pk)


@pytest.mark.parametrize("role", [Role.ARTIST, Role.KEEPER, "owner"])
def test_nobody_is_added_above_those_who_are_helped(keeper, role):
    with pytest.raises(Refused) as refused:
        add(keeper, role=role)
    assert refused.value.codes == ("not_this_role",)


def test_name_that_is_taken_is_refused(keeper, loic):
    with pytest.raises(Refused) as refused:
        add(keeper, username="loic")
    assert refused.value.codes == ("taken",)


def test_another_role_ends_what_was_open_under_the_old_one(keeper, loic, phone):
    actions.change_role(user=loic, role="wording_reader", by=keeper)
    loic.refresh_from_db()
    assert loic.role == Role.WORDING_READER
    assert not is_in(phone)
    assert last() == ("role_changed", keeper.pk, loic.pk)


def test_role_above_is_never_given(keeper, loic, phone):
    with pytest.raises(Refused):
        actions.change_role(user=loic, role="keeper", by=keeper)
    assert is_in(phone)


def test_lost_telephone_ends_sessions_and_forgets_devices(keeper, loic, phone):
    devices.begin(user=loic)
    actions.lose_phone(user=loic, by=keeper)
    assert not is_in(phone)
    assert not loic.code_devices.exists()
    assert last() == ("phone_lost", keeper.pk, loic.pk)


def test_who_gave_codes_sets_up_a_new_device_after_a_loss(keeper, loic):
    actions.lose_phone(user=loic, by=keeper)
    assert not loic.must_set_up_codes
    loic.asks_code = True
    actions.lose_phone(user=loic, by=keeper)
    loic.refresh_from_db()
    assert loic.must_set_up_codes


@pytest.mark.parametrize("by", [True, False])
def test_lost_telephone_and_paper_leave_one_new_code(keeper, loic, phone, by):
    loic.asks_code = True
    loic.save()
    devices.new_paper(loic)
    make(WrongTries, user=loic, count=5)
    code = actions.lose_codes(user=loic, by=keeper if by else None)
    loic.refresh_from_db()
    assert (loic.asks_code, loic.must_set_up_codes) == (True, True)
    assert loic.paper_codes.count() == 1
    assert not is_in(phone)
    assert last() == ("codes_lost", keeper.pk if by else None, loic.pk)
    assert not loic.wrong_tries.exists()
    assert devices.accepts(loic, code)
    assert not devices.accepts(loic, code)


def test_who_gives_no_codes_cannot_lose_them(keeper, loic, phone):
    with pytest.raises(Refused) as refused:
        actions.lose_codes(user=loic, by=keeper)
    assert refused.value.codes == ("no_codes",)
    assert is_in(phone)
    assert not loic.paper_codes.exists()


def test_codes_on_paper_are_made_anew_beside_a_device_only(loic):
    device = devices.begin(user=loic)
    with pytest.raises(Refused) as refused:
        actions.renew_paper(user=loic)
    assert refused.value.codes == ("no_device",)
    device.is_set_up = True
    device.save()
    (old,) = devices.new_paper(loic, 1)
    made = actions.renew_paper(user=loic)
    assert len(set(made)) == loic.paper_codes.count() == 10
    assert not devices.accepts(loic, old)
    assert last() == ("paper_renewed", loic.pk, loic.pk)


def test_what_was_seen_is_never_beyond_the_log(keeper, loic):
    actions.free(user=loic, by=keeper)
    actions.see(user=keeper, up_to=10**30)
    keeper.refresh_from_db()
    assert keeper.told_up_to == AccessEntry.objects.last().seq
    actions.see(user=keeper, up_to=0)
    keeper.refresh_from_db()
    assert keeper.told_up_to == 0


def test_everything_open_of_everybody_ends(keeper, loic, phone):
    actions.end_all(users=[loic, keeper], by=keeper)
    assert not is_in(phone)
    noted = AccessEntry.objects.filter(verb="sessions_ended").values_list("key", flat=True)
    assert list(noted) == [loic.pk, keeper.pk]


def test_new_first_password_forgets_all_that_was_before(keeper, loic, phone):
    loic.asks_code = True
    loic.save()
    loic.paper_codes.create(number=1, hashed="argon2$")
    actions.give_password(user=loic, password=PASSWORD, by=keeper)
    loic.refresh_from_db()
    assert loic.check_password(PASSWORD)
    assert not loic.asks_code
    assert not loic.paper_codes.exists()
    assert (loic.must_choose_password, loic.must_set_up_codes) == (True, True)
    assert not is_in(phone)
    assert last() == ("password_given", keeper.pk, loic.pk)


def test_own_new_password_is_noted_and_is_ones_own(loic):
    loic.must_choose_password = True
    actions.change_password(user=loic, password=PASSWORD)
    loic.refresh_from_db()
    assert loic.check_password(PASSWORD)
    assert not loic.must_choose_password
    assert last() == ("password_changed", loic.pk, loic.pk)


def test_password_of_now_is_not_a_new_one(loic):
    loic.set_password(PASSWORD)
    loic.must_choose_password = True
    with pytest.raises(Refused) as refused:
        actions.change_password(user=loic, password=PASSWORD)
    assert refused.value.codes == ("the_same",)
    assert loic.must_choose_password


def test_somebody_let_go_is_out_and_may_come_in_again(keeper, loic, phone):
    actions.let_go(user=loic, by=keeper)
    loic.refresh_from_db()
    assert not loic.is_active
    assert not is_in(phone)
    assert last() == ("let_go", keeper.pk, loic.pk)
    actions.let_in(user=loic, by=keeper)
    loic.refresh_from_db()
    assert loic.is_active
    assert last() == ("let_in", keeper.pk, loic.pk)


def test_somebody_freed_is_noted(keeper, loic):
    actions.free(user=loic, by=keeper)
    assert last() == ("freed", keeper.pk, loic.pk)


@pytest.mark.parametrize("role", [Role.ARTIST, Role.KEEPER])
@pytest.mark.parametrize(
    ("act", "said"),
    [
        (actions.let_go, {}),
        (actions.let_in, {}),
        (actions.change_role, {"role": "assistant"}),
        (actions.give_password, {"password": PASSWORD}),
    ],
)
def test_neither_artist_nor_keeper_takes_the_others_place(keeper, role, act, said):
    other = someone("ines", role)
    with pytest.raises(Refused) as refused:
        act(user=other, by=keeper, **said)
    assert refused.value.codes == ("not_this_role",)
    assert not AccessEntry.objects.exists()
