"""The second thing somebody signs in with: set up, taken once, lost."""

import time
from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone

from relations.privacy import codes, devices
from relations.privacy.models import AccessEntry, CodeDevice, Role, User

pytestmark = pytest.mark.django_db


@pytest.fixture
def user():
    return User.objects.create_user("loic", None, role=Role.ASSISTANT, called="Loïc")


@pytest.fixture(autouse=True)
def still(monkeypatch):
    """The middle of a half minute, so that no code ends while it is looked at."""
    middle = codes.step_at(time.time()) * codes.STEP_SECONDS + 15
    at = datetime.fromtimestamp(middle, tz=UTC)
    monkeypatch.setattr(timezone, "now", lambda: at)


def shown(device, steps=0):
    """What the device shows now, or some half minutes from now."""
    return codes.hotp(device.secret, codes.step_at(timezone.now().timestamp()) + steps)


@pytest.fixture
def paper(user):
    """The paper codes of somebody who has set a device up with the code of the step before."""
    device = devices.begin(user=user)
    return devices.set_up(device=device, said=shown(device, -1))


def test_pending_device_asks_for_nothing_until_it_showed_a_code(user):
    device = devices.begin(user=user)
    assert devices.pending(user) == device
    assert not user.asks_code
    assert (
        devices.set_up(device=device, said="000000" if shown(device) != "000000" else "1") is None
    )
    assert not devices.accepts(user, shown(device))
    made = devices.set_up(device=device, said=shown(device))
    assert len(made) == 10
    user.refresh_from_db()
    assert user.asks_code
    assert devices.pending(user) is None
    assert AccessEntry.objects.get().verb == "code_device_set_up"


def test_first_code_of_a_device_is_not_taken_again(user):
    device = devices.begin(user=user)
    said = shown(device)
    devices.set_up(device=device, said=said)
    assert not devices.accepts(user, said)


def test_code_is_taken_once(user, paper):
    said = shown(user.code_devices.get())
    assert devices.accepts(user, said)
    assert not devices.accepts(user, said)
    assert not devices.accepts(user, "")


def test_secret_is_shown_for_half_an_hour_only(user):
    device = devices.begin(user=user)
    CodeDevice.objects.update(made_at=timezone.now() - timedelta(minutes=31))
    assert devices.pending(user) is None
    assert devices.begin(user=user).secret != device.secret
    assert user.code_devices.count() == 1


def test_paper_code_opens_once_and_is_noted(user, paper):
    assert devices.accepts(user, codes.in_groups(paper[3]).lower())
    assert not devices.accepts(user, paper[3])
    assert user.paper_codes.count() == 9
    assert AccessEntry.objects.filter(verb="paper_code_used", key=user.pk).count() == 1


def test_wrong_paper_code_is_refused(user, paper):
    other = "2" + paper[3][1:]
    assert not devices.accepts(user, other)
    assert user.paper_codes.count() == 10


def test_paper_codes_are_kept_as_salted_hashes_only(user, paper):
    kept = [code.hashed for code in user.paper_codes.order_by("number")]
    assert all(hashed.startswith("argon2$argon2id$") for hashed in kept)
    assert not [hashed for hashed, code in zip(kept, paper, strict=True) if code in hashed]


def test_new_device_takes_the_place_of_the_old_one_and_of_its_paper(user, paper):
    old = user.code_devices.get()
    new = devices.begin(user=user)
    assert devices.accepts(user, shown(old))  # the old one opens until the new one is set up
    devices.set_up(device=new, said=shown(new))
    assert list(user.code_devices.all()) == [new]
    assert not devices.accepts(user, paper[0])


def test_lost_telephone_leaves_the_paper(user, paper):
    said = shown(user.code_devices.get())
    devices.forget(user)
    user.refresh_from_db()
    assert user.asks_code
    assert not devices.accepts(user, said)
    assert devices.accepts(user, paper[0])
